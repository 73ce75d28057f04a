package measure

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// midplane is the plane through the camera and the axis, by two image points near the
// ends of the object and how far it passes beside each, pixels.
type midplane struct {
	a, b   r2.Vec
	la, lb float64
	half   float64 // width looked at to either side, pixels
}

// midplaneOf is a first guess, by a mask's main axis.
func (m ground) midplaneOf(g grid) midplane {
	s := m.shape(g)
	sin, cos := math.Sincos(s.angle)
	if cos < 0 {
		sin, cos = -sin, -cos
	}
	half := 0.45 * s.long
	n := float64(m.reduced.n)
	return midplane{
		a: m.reduced.full(s.cx-half*cos, s.cy-half*sin), b: m.reduced.full(s.cx+half*cos, s.cy+half*sin),
		half: n * (0.75*s.short + 20),
	}
}

// ends are the two image points on the plane.
func (q midplane) ends() (a, b r2.Vec) {
	d := r2.Unit(r2.Sub(q.b, q.a))
	n := r2.Vec{X: -d.Y, Y: d.X}
	return r2.Add(q.a, r2.Scale(q.la, n)), r2.Add(q.b, r2.Scale(q.lb, n))
}

// fan of steps of so many pixels.
func (q midplane) fan(m ground, step float64) (fan, bool) {
	a, b := q.ends()
	room := 0.15*r2.Norm(r2.Sub(b, a)) + 20
	return fanThrough(m.cam, a, b, room, q.half, step)
}

// settle moves the plane to where the cheapest outline is cheapest, by ever smaller
// steps at either end, and returns that outline, in steps of one reduced pixel.
func (p patch) settle(ctx context.Context, m ground, q midplane, say []float64) (midplane, turned, bool, error) {
	glass := p.spyglass(m, say)
	try := func(q midplane, step float64) (turned, bool, error) {
		f, ok := q.fan(m, step)
		if !ok {
			return turned{}, false, nil
		}
		e, err := glass.through(ctx, f)
		if err != nil {
			return turned{}, false, err
		}
		from, width, cost, ok := e.outline()
		return turned{f, from, width, cost}, ok, nil
	}
	n := float64(m.reduced.n)
	size := r2.Norm(r2.Sub(q.b, q.a))
	coarse := max(2*n, size/200)
	best, ok, err := try(q, coarse)
	if err != nil {
		return q, best, false, err
	}
	if !ok {
		best.cost = math.Inf(1)
	}
	for move := size / 16; move > n/2; {
		better := false
		for _, d := range [6][2]float64{{1, 1}, {-1, -1}, {1, -1}, {-1, 1}, {1, 0}, {0, 1}} {
			next := q
			next.la, next.lb = q.la+move*d[0], q.lb+move*d[1]
			t, ok, err := try(next, coarse)
			if err != nil {
				return q, best, false, err
			}
			if ok && t.cost < best.cost {
				q, best, better = next, t, true
			}
		}
		if !better {
			move /= 2
		}
	}
	best, ok, err = try(q, n)
	return q, best, ok, err
}

// mask is the pixels of the reduced picture within the outline.
func (t turned) mask(m ground) grid {
	r := m.reduced
	g := grid{r.w, r.h, make([]bool, r.w*r.h)}
	// Marked from the fan in half steps, which leaves no gap.
	f := t.fan
	f.step /= 2
	f.first = 2 * f.first
	for k, w := range t.width {
		for half := range 2 {
			row := 2*(t.from+k) + half
			for col := range 2 * w {
				for _, side := range [2]float64{1, -1} {
					if px, ok := f.pixel(row, col, side); ok {
						x, y := r.from(px)
						if x >= 0 && y >= 0 && x < r.w && y < r.h && !g.on[y*r.w+x] {
							g.on[y*r.w+x] = t.holds(r.full(float64(x), float64(y)))
						}
					}
				}
			}
		}
	}
	return g
}

// holds reports whether a pixel of the full picture lies within the outline.
func (t turned) holds(px r2.Vec) bool {
	row, col := t.fan.cell(px)
	k := int(math.Floor(row)) - t.from
	return k >= 0 && k < len(t.width) && math.Abs(col) < float64(t.width[k])
}
