package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// Printed lines of a mat: half of how wide one looks at most, and how far to
// either side of it the object must reach to cover it, mm.
const (
	lineHalf  = 0.5
	lineAside = 1.1
)

// trimLines takes from a mask the pixels that lie over a printed line of the mat
// and are not covered by the object on both sides of it: a line that ends at the
// object, or runs along its edge, is no part of it. What it takes of the object
// itself is less than a millimetre, which the search for the edge makes good.
func trimLines(r *reduced, g grid, cam *camera.Camera, pitch [2]float64) grid {
	if min(pitch[0], pitch[1]) <= 4*lineAside {
		return g
	}
	out := g.clone()
	on := func(p r2.Vec) bool {
		px, ok := cam.Project(r3.Vec{X: p.X, Y: p.Y})
		if !ok {
			return false
		}
		x, y := r.from(px)
		if x < 0 || y < 0 || x >= g.w || y >= g.h {
			return false
		}
		return g.on[y*g.w+x]
	}
	// Deep inside nothing can change; the test there would only cost time.
	inside := g.grow(int(math.Ceil(2*lineAside*cam.F/cam.Height()/float64(r.n))), false)
	for i, set := range g.on {
		if !set || inside.on[i] {
			continue
		}
		m, ok := cam.OnPlane(r.full(float64(i%g.w), float64(i/g.w)), 0)
		if !ok {
			continue
		}
		p := r2.Vec{X: m.X, Y: m.Y}
		lx, ly := math.Round(p.X/pitch[0])*pitch[0], math.Round(p.Y/pitch[1])*pitch[1]
		if math.Abs(p.X-lx) < lineHalf && !(on(r2.Vec{X: lx - lineAside, Y: p.Y}) && on(r2.Vec{X: lx + lineAside, Y: p.Y})) {
			out.on[i] = false
		}
		if math.Abs(p.Y-ly) < lineHalf && !(on(r2.Vec{X: p.X, Y: ly - lineAside}) && on(r2.Vec{X: p.X, Y: ly + lineAside})) {
			out.on[i] = false
		}
	}
	return out
}

// from is the reduced pixel nearest to a place of the full picture.
func (r *reduced) from(px r2.Vec) (x, y int) {
	k := float64(r.n-1) / 2
	return int(math.Round((px.X - k) / float64(r.n))), int(math.Round((px.Y - k) / float64(r.n)))
}
