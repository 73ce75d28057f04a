package matgrid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// printless is the photograph with the grid's own lines painted over by what lies
// beside them. A row of lines a step apart has waves at every whole number to a
// step; strokes of a ruler would have to be told from ten of those.
type printless struct {
	*grey
	view
	lines bounds
}

// lineHalf is half the width, steps, of what is painted over, with linePixels
// for the lens's blur: printed lines are up to 0.9 mm wide on a centimetre's grid.
const (
	lineHalf   = 0.05
	linePixels = 1.5
)

// affine is the mat about a place of the photograph, good to some tens of pixels.
type affine struct {
	px   r2.Vec    // of the photograph
	at   r2.Vec    // the same in steps
	step [2]r2.Vec // pixels to a step along either family
	back [2]r2.Vec // steps a pixel: X's and Y's gradient
	half [2]float64
}

func (p *printless) affine(px r2.Vec) (a affine, ok bool) {
	at, ok := p.steps(px)
	if !ok {
		return a, false
	}
	const near = 0.5
	u, ok0 := p.px(r2.Add(at, r2.Vec{X: near}))
	v, ok1 := p.px(r2.Add(at, r2.Vec{Y: near}))
	if !ok0 || !ok1 {
		return a, false
	}
	a = affine{px: px, at: at, step: [2]r2.Vec{r2.Scale(1/near, r2.Sub(u, px)), r2.Scale(1/near, r2.Sub(v, px))}}
	det := r2.Cross(a.step[0], a.step[1])
	if det == 0 {
		return a, false
	}
	a.back = [2]r2.Vec{{X: a.step[1].Y / det, Y: -a.step[1].X / det}, {X: -a.step[0].Y / det, Y: a.step[0].X / det}}
	for k := range a.half {
		a.half[k] = lineHalf + linePixels*r2.Norm(a.back[k])
	}
	return a, true
}

// row is the light of a row of pixels from (x0, y) on, without lines.
func (p *printless) row(x0, y int, a *affine, into []float64) {
	px := r2.Vec{X: float64(x0), Y: float64(y)}
	d := r2.Sub(px, a.px)
	from := r2.Vec{X: a.at.X + r2.Dot(d, a.back[0]), Y: a.at.Y + r2.Dot(d, a.back[1])}
	light := p.v[y*p.grey.w+x0:][:len(into)]
	for x := range into {
		along := float64(x)
		s := r2.Vec{X: from.X + along*a.back[0].X, Y: from.Y + along*a.back[1].X}
		if into[x] = float64(light[x]); p.onLine(s, a) {
			into[x] = p.beside(r2.Vec{X: px.X + along, Y: px.Y}, s, a)
		}
	}
}

// clear is the light at a place of the mat, steps, without lines; a is from near by.
func (p *printless) clear(s, px r2.Vec, a *affine) float64 {
	if !p.onLine(s, a) {
		return p.at(px.X, px.Y)
	}
	return p.beside(px, s, a)
}

// offLine is how far a place lies from the nearest line of either family, steps.
func offLine(s r2.Vec) (x, y float64) {
	return s.X - math.Floor(s.X+0.5), s.Y - math.Floor(s.Y+0.5)
}

func (p *printless) onLine(s r2.Vec, a *affine) bool {
	x, y := offLine(s)
	inside := s.X > float64(p.lines.i0)-1.5 && s.X < float64(p.lines.i1)+1.5 && s.Y > float64(p.lines.j0)-1.5 && s.Y < float64(p.lines.j1)+1.5
	return inside && (math.Abs(x) < a.half[0] || math.Abs(y) < a.half[1])
}

// beside is the mean of the light at both sides of the lines that a place lies on.
func (p *printless) beside(px, s r2.Vec, a *affine) float64 {
	x, y := offLine(s)
	ends := [2]r2.Vec{px, px}
	if math.Abs(x) < a.half[0] {
		ends[0] = r2.Sub(ends[0], r2.Scale(x+a.half[0], a.step[0]))
		ends[1] = r2.Add(ends[1], r2.Scale(a.half[0]-x, a.step[0]))
	}
	if math.Abs(y) < a.half[1] {
		ends[0] = r2.Sub(ends[0], r2.Scale(y+a.half[1], a.step[1]))
		ends[1] = r2.Add(ends[1], r2.Scale(a.half[1]-y, a.step[1]))
	}
	return (p.at(ends[0].X, ends[0].Y) + p.at(ends[1].X, ends[1].Y)) / 2
}
