package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// trace returns the outline of a mask as a closed polygon of the full picture
// at an even spacing of about one pixel, the inside on its left as seen on a
// page with y downwards (clockwise in x right, y down turned over: see
// outwards). The mask is softened first, so that the outline is a smooth 0.5
// level instead of a staircase.
func trace(r *reduced, g grid) []r2.Vec {
	soft := soften(g)
	cells := walk(soft, g.w, g.h)
	if len(cells) < 8 {
		return nil
	}
	pts := make([]r2.Vec, len(cells))
	for i, c := range cells {
		pts[i] = r.full(c.X, c.Y)
	}
	return resample(pts, 1)
}

// soften is a binomial blur of width 5, rows then columns.
func soften(g grid) []float32 {
	kernel := [5]float32{1. / 16, 4. / 16, 6. / 16, 4. / 16, 1. / 16}
	tmp, out := make([]float32, len(g.on)), make([]float32, len(g.on))
	for y := 2; y < g.h-2; y++ {
		for x := 2; x < g.w-2; x++ {
			for k, f := range kernel {
				if g.on[y*g.w+x+k-2] {
					tmp[y*g.w+x] += f
				}
			}
		}
	}
	for y := 2; y < g.h-2; y++ {
		for x := 2; x < g.w-2; x++ {
			for k, f := range kernel {
				out[y*g.w+x] += f * tmp[(y+k-2)*g.w+x]
			}
		}
	}
	return out
}

// walk follows the 0.5 level round the largest ring by marching squares
// (Lorensen & Cline, Computer Graphics 21 (1987) 163-169, in two dimensions):
// it steps from cell edge to cell edge with what is above the level on the left.
func walk(v []float32, w, h int) []r2.Vec {
	const level = 0.5
	high := func(x, y int) bool { return v[y*w+x] > level }
	var best []r2.Vec
	used := make([]bool, w*h)
	for y := 1; y < h-2; y++ {
		for x := 1; x < w-2; x++ {
			if used[y*w+x] || !high(x+1, y) || high(x, y) {
				continue
			}
			if ring := ringFrom(v, w, h, x, y, used); len(ring) > len(best) {
				best = ring
			}
		}
	}
	return best
}

// Directions a walk enters a cell from.
var stepX, stepY = [4]int{1, 0, -1, 0}, [4]int{0, 1, 0, -1}

func ringFrom(v []float32, w, h, x0, y0 int, used []bool) (ring []r2.Vec) {
	const level = 0.5
	// A place between two neighbouring pixels where the level is crossed.
	cross := func(ax, ay, bx, by int) r2.Vec {
		a, b := float64(v[ay*w+ax]), float64(v[by*w+bx])
		t := (level - a) / (b - a)
		return r2.Vec{X: float64(ax) + t*float64(bx-ax), Y: float64(ay) + t*float64(by-ay)}
	}
	// Walk along pairs (low pixel, high pixel): square tracing on the dual grid.
	lx, ly, dir := x0, y0, 0 // the high pixel lies at (lx, ly) + step[dir]
	for {
		hx, hy := lx+stepX[dir], ly+stepY[dir]
		ring = append(ring, cross(lx, ly, hx, hy))
		if dir == 0 {
			used[ly*w+lx] = true
		}
		// Keep high on the left (y down: turn towards -90°). The two pixels ahead:
		ax, ay := stepX[(dir+1)%4], stepY[(dir+1)%4]
		highAhead := v[(hy+ay)*w+hx+ax] > level
		lowAhead := v[(ly+ay)*w+lx+ax] > level
		switch {
		case lowAhead: // the level turns towards the low side
			dir = (dir + 1) % 4
		case highAhead: // straight on
			lx, ly = lx+ax, ly+ay
		default: // it turns round the high pixel
			lx, ly = hx+ax, hy+ay
			dir = (dir + 3) % 4
		}
		if (lx == x0 && ly == y0 && dir == 0) || len(ring) > 4*w*h {
			return ring
		}
		if lx < 1 || ly < 1 || lx >= w-1 || ly >= h-1 {
			return nil
		}
	}
}

// resample spaces a closed polygon evenly, about step apart.
func resample(pts []r2.Vec, step float64) []r2.Vec {
	total := 0.0
	for i, p := range pts {
		total += r2.Norm(r2.Sub(pts[(i+1)%len(pts)], p))
	}
	n := int(total / step)
	if n < 8 {
		return nil
	}
	out := make([]r2.Vec, 0, n)
	at, want := 0.0, 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		d := r2.Norm(r2.Sub(q, p))
		for len(out) < n && want <= at+d && d > 0 {
			out = append(out, r2.Add(p, r2.Scale((want-at)/d, r2.Sub(q, p))))
			want += total / float64(n)
		}
		at += d
	}
	return out
}

// area is the signed area of a polygon (y down: positive clockwise as seen).
func area(pts []r2.Vec) float64 {
	s := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		s += p.X*q.Y - q.X*p.Y
	}
	return s / 2
}

// tangent fits a parabola to the 2·half+1 points round i of a closed polygon,
// by least squares in the index, and returns its place and unit direction at i.
func tangent(pts []r2.Vec, i, half int) (at, dir r2.Vec) {
	n := len(pts)
	var s2, s4 float64
	var sum, lin, quad r2.Vec
	for k := -half; k <= half; k++ {
		p := pts[((i+k)%n+n)%n]
		t := float64(k)
		s2 += t * t
		s4 += t * t * t * t
		sum = r2.Add(sum, p)
		lin = r2.Add(lin, r2.Scale(t, p))
		quad = r2.Add(quad, r2.Scale(t*t, p))
	}
	m := float64(2*half + 1)
	den := m*s4 - s2*s2
	at = r2.Scale(1/den, r2.Sub(r2.Scale(s4, sum), r2.Scale(s2, quad)))
	dir = r2.Scale(1/math.Hypot(lin.X, lin.Y), lin)
	return at, dir
}
