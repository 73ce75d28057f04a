package photograph

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Blurred is the same scene out of focus: the blur's standard deviation, px.
func (s Scene) Blurred(px float64) Scene {
	s.film.blur = px
	return s
}

// Exposed is the same scene in k times the light.
func (s Scene) Exposed(k float64) Scene {
	s.film.exposure *= k
	return s
}

// Aside is the same scene with the camera moved over the mat, mm.
func (s Scene) Aside(dx, dy float64) Scene {
	s.lens.c = r3.Add(s.lens.c, r3.Vec{X: dx, Y: dy})
	return s
}

// Centred is the same scene with the camera looking at the body's middle.
func (s Scene) Centred() Scene {
	d := s.lens.r[2]
	at := r3.Add(s.lens.c, r3.Scale(s.lens.c.Z/-d.Z, d))
	x, y, _ := s.Bodied()
	return s.Aside(x-at.X, y-at.Y)
}

// Laid is the same scene with the body's middle elsewhere on the mat, mm, the
// camera moved with it.
func (s Scene) Laid(x, y float64) Scene {
	b := *s.body
	mid := b.world(b.middle())
	b.lay(x, y, b.azimuth)
	s.body = &b
	return s.Aside(x-mid.X, y-mid.Y)
}

// Misprinted is the same scene on a mat printed in another scale, true millimetres a
// printed one.
func (s Scene) Misprinted(x, y float64) Scene {
	s.mat.scale = [2]float64{x, y}
	return s
}

// OnTable is the same scene without a mat and without a ruler, on a table as grey as
// is said, a share of the light.
func (s Scene) OnTable(grey float64) Scene {
	s.matless, s.ruler, s.card = true, nil, nil
	c := colour{grey, grey, grey}
	s.table = table{light: c.times(1.03), dark: c.times(0.97), stripe: 0.3, fine: 0.02}
	return s
}

// Ruled is the same scene with its ruler's tick 0 raised by lift, mm, and the ruler
// rising by lean a millimetre along it.
func (s Scene) Ruled(lift, lean float64) Scene {
	if s.ruler != nil {
		r := *s.ruler
		r.lift, r.lean = lift, lean
		s.ruler = &r
	}
	return s
}

// Bodied reports how the body lies: its middle on the mat, mm, and its azimuth,
// radians.
func (s *Scene) Bodied() (x, y, azimuth float64) {
	m := s.body.world(s.body.middle())
	return m.X, m.Y, s.body.azimuth
}

// HasRuler reports whether a ruler lies in the scene.
func (s *Scene) HasRuler() bool { return s.ruler != nil }

// top is how high the ruler's upper face lies at a place along it, mm. A lean of a
// few hundredths shortens it, seen from above, by less than a thousandth, which is
// left out.
func (r *ruler) top(along float64) float64 { return rulerThick + r.lift + r.lean*along }

// looks is how often the place that a ray meets on the ruler's face is sought: a
// leaning one is met elsewhere than it was first looked for.
func (r *ruler) looks() int {
	if r.lean == 0 {
		return 1
	}
	return 4
}
