package measure

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/finding"
)

// How far one camera's lens differs from one photograph to the next.
const (
	// refocus: a lens of 6 mm that focuses by moving has its image 6²/500 mm farther
	// at 500 mm than at infinity and 6²/700 at 700 mm (Gauss): 0.3 % of the focal length.
	refocus = 0.003
	// steady is how far a lens that is steadied against shake lets the centre wander,
	// as a share of the picture's width. Common practice; a guess until logged.
	steady = 0.002
)

// bentRuler is how many times further than crossings the strokes of a ruler may
// stand off before it is no straight scale, and bentLeast from how many pixels.
const (
	bentRuler = 4.0
	bentLeast = 0.4
)

// sightings are what the camera is fitted to beside the marks of the measured
// photograph.
type sightings struct {
	known  camera.Known
	others [][]camera.Mark // of further photographs, as the first one's camera would have them
}

// fit fits the camera to marks of the measured photograph and all else that is
// known. Strokes that are those of no ruler, or of one that is not straight, are
// left out, and said; another row than the longest may be something else's and is
// tried without first.
func (s *sightings) fit(marks []camera.Mark, in Input, list *finding.List) (camera.Fitted, error) {
	views := append([][]camera.Mark{marks}, s.others...)
	for {
		all, err := camera.FitAll(views, s.known)
		noRuler := errors.Is(err, camera.ErrRuler)
		if err != nil && !noRuler {
			return camera.Fitted{}, err
		}
		if !noRuler && (len(s.known.Ticks) == 0 || asStraight(&all[0])) {
			return all[0], nil
		}
		first := longest(s.known.Ticks)
		if len(first) == len(s.known.Ticks) {
			first = nil
			if noRuler {
				list.Add(finding.New("ruler-not-read", in.PhotoAt, nil))
			} else {
				list.Add(finding.New("ruler-not-straight", in.PhotoAt, finding.Args{"off": finding.Number(all[0].Ruler.Sigma[0])}))
			}
		}
		s.known.Ticks = first
	}
}

// asStraight reports whether a ruler's strokes stand where those of a straight one do.
func asStraight(fit *camera.Fitted) bool {
	return fit.Ruler.Sigma[0] <= max(bentRuler*fit.Sigma, bentLeast)
}

// longest is the ticks of the first edge, which is the longest.
func longest(ticks []camera.Tick) (out []camera.Tick) {
	for _, t := range ticks {
		if t.Edge == ticks[0].Edge {
			out = append(out, t)
		}
	}
	return out
}

// addOthers reads the marks of the further photographs. One that does not help is
// left out, and said.
func (s *sightings) addOthers(ctx context.Context, first *picture, in Input, list *finding.List) error {
	for _, o := range in.Others {
		p, err := decode(ctx, o.Photo)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			list.Add(finding.New("photo-helps-not", o.PhotoAt, nil))
			continue
		}
		if !p.sameCamera(first) {
			list.Add(finding.New("photo-other-camera", o.PhotoAt, nil))
			continue
		}
		var own finding.List
		seen, ok, err := marksFor(ctx, p, Input{Photo: o.Photo, Marks: o.Marks, PhotoAt: o.PhotoAt, MarksAt: o.MarksAt}, &own)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(own, func(f finding.Finding) bool { return f.Code == "grid-step-likely" }) {
			ok = false // a step that may be wrong would bend the camera that is shared
		}
		if ok {
			_, err = camera.Fit(seen.marks, seen.known(p)) // whether it can be seen so at all
		}
		if !ok || err != nil {
			list.Add(finding.New("photo-helps-not", o.PhotoAt, nil))
			continue
		}
		marks := make([]camera.Mark, len(seen.marks))
		for i, m := range seen.marks {
			marks[i] = camera.Mark{Px: p.as(first, m.Px), Mm: m.Mm}
		}
		s.others = append(s.others, marks)
	}
	if len(s.others) > 0 {
		s.known.MatsDiffer = true // or one mat seen from another side, X where Y was
		s.known.Refocus, s.known.Steady = refocus, steady*float64(max(first.w, first.h))
	}
	return nil
}

// sameCamera reports whether two photographs may share a lens: of one maker and
// model, one size and one focal length.
func (p *picture) sameCamera(q *picture) bool {
	return p.camera == q.camera && p.f35 == q.f35 &&
		max(p.w, p.h) == max(q.w, q.h) && min(p.w, p.h) == min(q.w, q.h)
}

// as takes a pixel of an upright photograph to where the same place of the sensor
// is in another one: a camera held upright keeps its lens.
func (p *picture) as(q *picture, px r2.Vec) r2.Vec {
	w, h := p.w, p.h
	if p.orientation >= 5 {
		w, h = h, w
	}
	x, y := source(p.orientation, float64(w), float64(h), px.X, px.Y)
	// Turned back, 6 is what 8 is and all others what they are.
	back := q.orientation
	switch back {
	case 6:
		back = 8
	case 8:
		back = 6
	}
	x, y = source(back, float64(q.w), float64(q.h), x, y)
	return r2.Vec{X: x, Y: y}
}

// leanMost is how much higher one end of a ruler may stand than the other, mm: what
// its own thickness and the dust under it make.
const leanMost = 1.0

// misprintLeast is the least misprint worth saying, as a share: 3 mm a metre.
const misprintLeast = 0.003

// checkScale says how the scale is known.
func checkScale(list *finding.List, fit *camera.Fitted, found bool, in Input) {
	if !found {
		return // picked marks take the print at its word
	}
	most := 0.0
	for k := range 2 {
		if d := math.Abs(fit.Scale[k] - 1); d > math.Abs(most) && d > 3*fit.ScaleDoubt[k] {
			most = fit.Scale[k] - 1
		}
	}
	percent := func(share float64) finding.Number { return finding.Number(math.Round(1e4*share) / 100) }
	uneven := fit.Scale[1] - fit.Scale[0]
	r := &fit.Ruler
	switch {
	case len(r.Off) == 0 && math.Abs(uneven) > 3*math.Sqrt2*camera.MatDoubt:
		list.Add(finding.New("mat-uneven", in.PhotoAt, finding.Args{
			"share": percent(math.Abs(uneven)), "doubt": percent(2 * max(fit.ScaleDoubt[0], fit.ScaleDoubt[1])),
		}))
	case len(r.Off) == 0 && in.Length.X <= 0:
		list.Add(finding.New("mat-scale-unchecked", in.PhotoAt, finding.Args{
			"share": percent(camera.MatDoubt), "metre": finding.Size(1000 * camera.MatDoubt),
		}))
	case len(r.Off) > 0 && math.Abs(most) > misprintLeast:
		list.Add(finding.New("mat-misprinted", in.PhotoAt, finding.Args{
			"x": percent(fit.Scale[0] - 1), "y": percent(fit.Scale[1] - 1), "metre": finding.Size(1000 * math.Abs(most)),
		}))
	}
	if len(r.Off) == 0 {
		return
	}
	if rise := math.Abs(r.Lean) * r.Span; rise > leanMost && math.Abs(r.Lean) > 3*r.LeanDoubt {
		list.Add(finding.New("ruler-out-of-plane", in.PhotoAt, finding.Args{"rise": finding.Size(rise)}))
	}
}
