package measure

import (
	"context"
	"errors"
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/craft/limb"
	"scalewright/finding"
)

// Run measures a turned body in one photograph. What the maker can put right is
// a finding; the error is for a cancelled context. Where a blocker stands in the
// way, the result holds what was found up to there and Lost is set.
func Run(ctx context.Context, in Input) (Result, finding.List, error) {
	var list finding.List
	out := Result{
		Units: "mm", View: "side", Lost: true,
		Profile: []Point{}, Segments: []Segment{}, Outlines: []Outline{},
	}
	p, err := decode(ctx, in.Photo)
	if err != nil {
		if ctx.Err() != nil {
			return out, nil, ctx.Err()
		}
		list.Add(decodeFinding(err, in.PhotoAt))
		return out, list, nil
	}
	if in.Known != nil {
		return out.byLength(ctx, p, in, list)
	}
	printed, ok, err := marksFor(ctx, p, in, &list)
	if err != nil || !ok {
		return out, list, err
	}
	giveBack(p.w, p.h)
	marks := printed.marks
	out.Grid = Grid{Found: printed.found, PitchMM: printed.step, Crossings: len(marks)}
	seen := sightings{known: printed.known(p)}
	if err := seen.addOthers(ctx, p, in, &list); err != nil {
		return out, nil, err
	}
	fit, err := seen.fit(marks, in, &list)
	if err != nil {
		list.Add(fitFinding(err, len(marks), in.MarksAt))
		return out, list, nil
	}
	out.Grid.RMSPx, out.Lens, out.Marks = fit.RMS, fit.Camera, marks
	out.Camera = Camera{K1: fit.K1, K2: fit.K2, HeightMM: fit.Height(), TiltDeg: fit.Tilt() / deg}
	out.Lies = limb.Pose{Camera: fit.Camera}
	checkFit(&list, &fit, marks, in)

	m, objects, err := matWith(ctx, p, &fit, in, printed)
	if err != nil {
		return out, nil, err
	}
	w := working{p: p, printed: printed, fit: &fit, seen: &seen, ground: m, objects: objects}
	w.flat = w.flatMeanwhile(ctx, in)
	err = w.turned(ctx, &out, in, &list)
	var fault error
	if out.Outlines, fault = w.flat(); fault != nil && err == nil {
		err = fault
	}
	if err != nil {
		return out, nil, err
	}
	return out, list, nil
}

// working is a photograph whose mat has been found.
type working struct {
	p       *picture
	printed evidence
	fit     *camera.Fitted
	seen    *sightings
	ground
	objects []grid
	flat    func() ([]Outline, error)
}

// flatMeanwhile begins to find flat outlines, where they are wanted, and returns what waits
// for them. It looks through the camera as it is now.
func (w working) flatMeanwhile(ctx context.Context, in Input) func() ([]Outline, error) {
	if !in.Flat {
		return func() ([]Outline, error) { return []Outline{}, nil }
	}
	cam := w.fit.Camera
	w.ground.cam = &cam
	wait := sync.OnceValues(func() ([]Outline, error) { return w.outlines(ctx, w.objects, in.Thick) })
	go wait()
	return wait
}

// turned measures the turned body.
func (w working) turned(ctx context.Context, out *Result, in Input, list *finding.List) (err error) {
	p, fit, m, printed, objects := w.p, w.fit, w.ground, w.printed, w.objects
	marks := printed.marks
	if printed.found && len(objects) > 0 {
		if again, err := w.seen.fit(m.clearOf(marks, objects[0]), in, list); err == nil {
			*fit = again // m looks through the same camera
			out.Lens, out.Lies.Camera = fit.Camera, fit.Camera
			out.Camera = Camera{K1: fit.K1, K2: fit.K2, HeightMM: fit.Height(), TiltDeg: fit.Tilt() / deg}
		}
	}
	out.Scale = scaleOf(fit, printed.found)
	checkScale(list, fit, printed.found, in)
	checkTilt(fit.Tilt(), in, list)
	sil, ok := silhouette{}, false
	if objects = m.wanted(objects); len(objects) > 0 {
		if sil, ok, err = m.silhouetteOf(ctx, objects[0]); err != nil {
			return err
		}
	}
	if !ok {
		return m.lostBecause(ctx, in, list)
	}
	if err := m.checkShot(ctx, sil.edge, in, list); err != nil {
		return err
	}
	set := settingsOf(p, fit, in)
	out.Contour = contourOf(sil.edge)
	v := view{&fit.Camera, sil.edge, sights(&fit.Camera, sil.edge)}
	guess := 0.4 * sil.width
	start := pose{a: sil.a, b: sil.b, ha: guess, hb: guess}
	sol, ok := v.solve(start, set)
	sol, ok = v.anew(sol, ok, start, set, sil.even)
	turned := false
	if ok {
		if v, sol, turned, err = m.again(ctx, v, sol, set, sil.even); err != nil {
			return err
		}
		sil.edge = v.edge
	}
	if !turned {
		return w.notTurned(ctx, sil, ok, in, list)
	}
	checkInside(p, fit, marks, printed.step, sil.edge, in, list)
	checkNear(fit, sol, in, list)
	out.Contour = v.traced(&sol)
	v.openEnds(&sol)
	v.checkEdge(&sol, set, in, list)
	sol.checkFurther(in, list)
	v.sayFins(&sol, set, in, list)
	if err := out.fill(ctx, p, fit, sil.edge, sol, set, in, list); err != nil {
		return err
	}
	// The length as it was taken, over the length as it is seen, stretches the rest.
	out.Seen = sol.seen(v, p, set.flip, out.Length.Value/(sol.hi.s-sol.lo.s))
	out.Lost = list.Blocked()
	return nil
}

// notTurned says what there is where no turned body fits.
func (w working) notTurned(ctx context.Context, sil silhouette, ok bool, in Input, list *finding.List) error {
	flat, err := w.flat()
	if err != nil {
		return err
	}
	code := finding.Code("silhouette-not-turned")
	if len(flat) > 0 {
		code = "only-flat"
	}
	list.Add(finding.New(code, in.PhotoAt, nil))
	if !ok || len(flat) == 0 {
		return w.checkOver(ctx, sil.edge, in, list)
	}
	return nil
}

// settingsOf is what of the input a solve hangs on.
func settingsOf(p *picture, fit *camera.Fitted, in Input) settings {
	set := settings{photo: p, rests: in.Rests, flip: in.Datum == "right"}
	for _, h := range in.Hidden {
		set.hidden = append(set.hidden, hidden{h.From, h.To})
	}
	set.marked = markedOf(&fit.Camera, in.Features)
	return set
}

// contourOf is the edge as places of the photograph.
func contourOf(edge []edgePoint) [][2]float64 {
	out := make([][2]float64, len(edge))
	for i, e := range edge {
		out[i] = [2]float64{e.at.X, e.at.Y}
	}
	return out
}

func marksOf(in Input, p *picture) []camera.Mark {
	marks := make([]camera.Mark, len(in.Marks.Marks))
	for i, m := range in.Marks.Marks {
		marks[i] = camera.Mark{Px: r2.Vec{X: m.Pixel[0], Y: m.Pixel[1]}, Mm: r2.Vec{X: m.Mat[0], Y: m.Mat[1]}}
	}
	return marks
}

func decodeFinding(err error, at finding.Place) finding.Finding {
	switch {
	case errors.Is(err, errHEIC):
		return finding.New("photo-heic", at, nil)
	case errors.Is(err, errTooSmall):
		return finding.New("photo-too-small", at, finding.Args{"least": finding.Count(minSide)})
	case errors.Is(err, errTooLarge):
		return finding.New("photo-too-large", at, finding.Args{"most": finding.Count(maxPixels / 1_000_000)})
	}
	return finding.New("photo-unreadable", at, nil)
}

func fitFinding(err error, n int, at finding.Place) finding.Finding {
	switch {
	case errors.Is(err, camera.ErrTooFew):
		return finding.New("marks-too-few", at, finding.Args{"found": finding.Count(n)})
	case errors.Is(err, camera.ErrOnALine):
		return finding.New("marks-on-a-line", at, nil)
	case errors.Is(err, camera.ErrCoincident):
		return finding.New("marks-coincide", at, nil)
	case errors.Is(err, camera.ErrNotFinite):
		return finding.New("marks-not-numbers", at, nil)
	}
	return finding.New("marks-mirrored", at, nil)
}

// marksDisagree is the rms of the marks, pixels, past which they were not all
// picked on the crossings that they claim: a hand under a loupe keeps to 1.
const marksDisagree = 2.0

// strayMark is how many standard deviations a single mark may lie off.
const strayMark = 5.0

// offGrid is how far from a multiple of the pitch a mark may be said to lie, as a
// share of the pitch: half a grid is printed on some mats too.
const offGrid = 0.02

// checkGrid says the first mark that the stated grid does not have.
func checkGrid(list *finding.List, in Input) {
	half := in.Marks.PitchMM / 2
	if half <= 0 {
		return
	}
	for _, m := range in.Marks.Marks {
		for _, x := range m.Mat {
			if math.Abs(x/half-math.Round(x/half)) > 2*offGrid {
				list.Add(finding.New("marks-off-grid", in.MarksAt, finding.Args{
					"x": finding.Number(m.Mat[0]), "y": finding.Number(m.Mat[1]), "pitch": finding.Size(in.Marks.PitchMM),
				}))
				return
			}
		}
	}
}

// focalUnsure is from which share on a focal length that the photograph does not say
// is worth a word: what EXIF would leave of it is 0.02.
const focalUnsure = 0.02

func checkFit(list *finding.List, fit *camera.Fitted, marks []camera.Mark, in Input) {
	checkGrid(list, in)
	worst := 0
	for i, o := range fit.Off {
		if o > fit.Off[worst] {
			worst = i
		}
	}
	if fit.RMS > marksDisagree || fit.Off[worst] > max(strayMark*fit.Sigma*math.Sqrt2, marksDisagree) {
		m := marks[worst]
		list.Add(finding.New("marks-disagree", in.MarksAt, finding.Args{
			"off": finding.Number(fit.Off[worst]), "rms": finding.Number(fit.RMS),
			"x": finding.Number(m.Mm.X), "y": finding.Number(m.Mm.Y),
		}))
	}
	if share := math.Sqrt(fit.Cov[0][0]) / fit.F; !fit.FocalKnown && share > focalUnsure {
		list.Add(finding.New("focal-length-unknown", in.PhotoAt, finding.Args{"share": finding.Number(100 * share)}))
	}
}
