package measure

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/craft/matgrid"
	"scalewright/finding"
)

// stepMistaken is the share by which the step told and the step seen may differ
// and still be the same print: mats are printed up to three hundredths wrong.
const stepMistaken = 0.04

// evidence is what the camera is fitted to.
type evidence struct {
	marks []camera.Mark
	ticks []camera.Tick // of one ruler
	step  float64       // of the grid as printed, mm
	found bool          // by itself
}

// marksFor takes the marks that were picked, or finds the mat's grid; ok is false
// where a finding says why there are none.
func marksFor(ctx context.Context, p *picture, in Input, list *finding.List) (s evidence, ok bool, err error) {
	if len(in.Marks.Marks) > 0 {
		return evidence{marks: marksOf(in, p), step: in.Marks.PitchMM}, true, nil
	}
	found, ok, err := matgrid.Find(ctx, matgrid.Picture{W: p.w, H: p.h, RGB: p.rgb})
	if err != nil {
		return s, false, err
	}
	if !ok {
		list.Add(finding.New("grid-not-found", in.PhotoAt, nil))
		return s, false, checkPicture(ctx, p, in, list)
	}
	told := in.Marks.PitchMM
	s = evidence{step: found.StepMM, found: true}
	switch {
	case told > 0 && found.StepMM > 0 && (told/found.StepMM > 1+stepMistaken || told/found.StepMM < 1-stepMistaken):
		list.Add(finding.New("grid-step-differs", in.PhotoAt, finding.Args{
			"told": finding.Size(told), "seen": finding.Size(found.StepMM),
		}))
		return s, false, nil
	case told > 0:
		s.step = told
	case found.StepMM == 0 && found.LikelyMM > 0:
		s.step = found.LikelyMM
		list.Add(finding.New("grid-step-likely", in.PhotoAt, finding.Args{
			"every": finding.Number(found.Heavy), "step": finding.Fine(found.LikelyMM),
		}))
	case found.StepMM == 0:
		list.Add(finding.New("grid-step-unknown", in.PhotoAt, nil))
		return s, false, checkPicture(ctx, p, in, list)
	}
	s.marks = make([]camera.Mark, len(found.Crossings))
	for k, c := range found.Crossings {
		s.marks[k] = camera.Mark{Px: c.Px, Mm: r2.Vec{X: s.step * float64(c.I), Y: s.step * float64(c.J)}}
	}
	s.ticks = ticksOf(found.Rulers, s.step)
	return s, true, nil
}

// gridSigma is how well a crossing or a tick that was found is expected to be
// known, pixels: the goal of the finder.
const gridSigma = 0.1

// known is what the camera's fit may start from.
func (s evidence) known(p *picture) camera.Known {
	k := camera.Known{Width: p.w, Height: p.h, F35: p.f35, Ticks: s.ticks, PrintTrue: !s.found}
	if s.found {
		k.Sigma = gridSigma
	}
	return k
}

// steps are true millimetres from line to line, in X and Y.
func (s evidence) steps(fit *camera.Fitted) [2]float64 {
	return [2]float64{s.step * fit.Scale[0], s.step * fit.Scale[1]}
}

// ticksOf takes the longest row of a ruler's strokes and those parallel to it,
// counted the same way, in millimetres.
func ticksOf(rows []matgrid.Strokes, step float64) (out []camera.Tick) {
	const parallel = 0.03 // radians
	var along r2.Vec
	for edge, r := range rows {
		g, way := r.Graduation(step), marchOf(r)
		if g == 0 {
			continue // divided like none on this mat
		}
		if along == (r2.Vec{}) {
			along = way
		}
		if math.Abs(r2.Cross(along, way)) > parallel {
			continue
		}
		if r2.Dot(along, way) < 0 {
			g = -g
		}
		for _, k := range r.Kept {
			out = append(out, camera.Tick{Px: k.Px, At: g * float64(k.Number), Edge: edge})
		}
	}
	return out
}

// marchOf is the unit direction in which a row's numbers grow, in the photograph.
func marchOf(r matgrid.Strokes) r2.Vec {
	return r2.Unit(r2.Sub(r.Kept[len(r.Kept)-1].Px, r.Kept[0].Px))
}

// Round the object the mat's light is disturbed: it stands in the rim of shadows
// and in what the object throws back, and lines there look moved by a twentieth of
// a pixel all one way. With a thousand crossings that is ten standard deviations of
// the focal length, so the camera is fitted again without them.
const (
	disturbedMM = 30.0
	stillEnough = 60 // crossings that must be left
)

// clearOf leaves out the marks near an object.
func (m ground) clearOf(marks []camera.Mark, object grid) []camera.Mark {
	near := object.grow(int(math.Ceil(disturbedMM*m.scale)), true)
	var out []camera.Mark
	for _, k := range marks {
		x, y := m.reduced.from(k.Px)
		if x < 0 || y < 0 || x >= near.w || y >= near.h || !near.on[y*near.w+x] {
			out = append(out, k)
		}
	}
	if len(out) < stillEnough {
		return marks
	}
	return out
}
