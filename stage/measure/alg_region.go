package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// regionOf is where the object is looked for: the polygon told, or the hull of
// the grid and a little beyond.
func regionOf(cam *camera.Camera, around [][2]float64, grid []r2.Vec) []r2.Vec {
	var mm []r2.Vec
	if len(around) >= 3 {
		for _, p := range around {
			mm = append(mm, r2.Vec{X: p[0], Y: p[1]})
		}
	} else {
		mm = hull(grid)
		var mean r2.Vec
		for _, p := range mm {
			mean = r2.Add(mean, p)
		}
		mean = r2.Scale(1/float64(len(mm)), mean)
		for i, p := range mm {
			mm[i] = r2.Add(mean, r2.Scale(1.03, r2.Sub(p, mean)))
		}
	}
	out := make([]r2.Vec, 0, len(mm))
	for _, p := range mm {
		if px, ok := cam.Project(r3.Vec{X: p.X, Y: p.Y}); ok {
			out = append(out, px)
		}
	}
	return out
}

// matWith is the mat as it is bare, and what lies on it: within all of the grid, or, where the
// object reaches over the grid's end, within its crossings. Beyond a mat's last line the table
// is near, and may be of the object's colour.
func matWith(ctx context.Context, p *picture, fit *camera.Fitted, in Input, seen evidence) (m ground, objects []grid, err error) {
	crossings := make([]r2.Vec, len(seen.marks))
	for i, k := range seen.marks {
		crossings[i] = k.Mm
	}
	for _, within := range [2][]r2.Vec{p.gridOf(&fit.Camera, crossings, seen.steps(fit)), crossings} {
		region := regionOf(&fit.Camera, in.Around, within)
		if m, err = findGround(ctx, p, &fit.Camera, region, seen.steps(fit)); err != nil {
			return m, nil, err
		}
		m.brushes, m.ticks = in.Brushes, seen.ticks
		if objects = m.objects(); len(objects) == 0 || len(in.Around) >= 3 || m.clearWithin(objects[0]) {
			break
		}
	}
	return m, objects, nil
}

// gridOf is how far the grid goes: its crossings, and the lines next beyond them as far as they
// show. The outermost line of a mat is met by others and crossed by none, and what lies
// over its crossings hides them; it belongs to the grid all the same.
func (p *picture) gridOf(cam *camera.Camera, crossings []r2.Vec, step [2]float64) []r2.Vec {
	out := slices.Clone(crossings)
	if len(out) == 0 || step[0] <= 0 || step[1] <= 0 {
		return out
	}
	g := printed{p, cam, step}
	lo, hi := g.cell(out[0]), g.cell(out[0])
	for _, at := range out {
		c := g.cell(at)
		for k := range c {
			lo[k], hi[k] = min(lo[k], c[k]), max(hi[k], c[k])
		}
	}
	for range ringsMost {
		next, top := lo, hi
		for along := range 2 { // lines along X, then along Y
			across := 1 - along
			usual := g.usual(along, lo, hi)
			for _, k := range [2]int{lo[across] - 1, hi[across] + 1} {
				if from, to, ok := g.shows(along, k, lo[along], hi[along], usual); ok {
					out = append(out, g.at(along, k, from), g.at(along, k, to))
					next[across], top[across] = min(next[across], k), max(top[across], k)
				}
			}
		}
		if next == lo && top == hi {
			break
		}
		lo, hi = next, top
	}
	return out
}

// How a line of the grid is known to go on beyond the marks.
const (
	ringsMost  = 2   // lines beyond, on each side
	ringSteps  = 5   // places looked at from one crossing to the next
	ringFaint  = 0.4 // of the usual contrast, the least of a line
	ringShows  = 0.5 // of its places where it is to be seen
	ringBeside = 1.2 // mm, beside a line where it is bare
)

// printed is a grid in a picture.
type printed struct {
	*picture
	cam  *camera.Camera
	step [2]float64
}

func (g printed) cell(mm r2.Vec) [2]int {
	return [2]int{int(math.Round(mm.X / g.step[0])), int(math.Round(mm.Y / g.step[1]))}
}

// at is a place of the k-th line along X (along 0) or along Y, so many steps along it.
func (g printed) at(along, k int, t float64) r2.Vec {
	c := [2]float64{float64(k), float64(k)}
	c[along] = t
	return r2.Vec{X: c[0] * g.step[0], Y: c[1] * g.step[1]}
}

// contrast is how much lighter a line is at a place than what lies beside it, in square root
// of light, on the side where it stands out less: the mat's own edge stands out on one only,
// and is no line. Ok is false outside the picture.
func (g printed) contrast(along int, mm r2.Vec) (c float64, ok bool) {
	off := r2.Vec{X: ringBeside}
	if along == 0 {
		off = r2.Vec{Y: ringBeside}
	}
	var v [3]float64
	for k := range v {
		q := r2.Add(mm, r2.Scale(float64(k-1), off))
		px, seen := g.cam.Project(r3.Vec{X: q.X, Y: q.Y})
		if !seen || px.X < 1 || px.Y < 1 || px.X > float64(g.w-2) || px.Y > float64(g.h-2) {
			return 0, false
		}
		light := g.picture.at(px.X, px.Y)
		v[k] = math.Sqrt((light[0] + light[1] + light[2]) / 3)
	}
	if a, b := v[1]-v[0], v[1]-v[2]; a*b > 0 {
		c = math.Copysign(min(math.Abs(a), math.Abs(b)), a)
	}
	return c, true
}

// contrasts are those along a line from one crossing to another, between the crossings.
func (g printed) contrasts(along, k, from, to int) (at, c []float64) {
	for n := range ringSteps * (to - from) {
		t := float64(from) + (float64(n)+0.5)/ringSteps
		if math.Abs(t-math.Round(t)) < 0.15 {
			continue
		}
		if v, ok := g.contrast(along, g.at(along, k, t)); ok {
			at, c = append(at, t), append(c, v)
		}
	}
	return at, c
}

// usual is the contrast of most places of the lines within the marks.
func (g printed) usual(along int, lo, hi [2]int) float64 {
	var all []float64
	for k := lo[1-along]; k <= hi[1-along]; k++ {
		_, c := g.contrasts(along, k, lo[along], hi[along])
		all = append(all, c...)
	}
	if len(all) == 0 {
		return 0
	}
	return median(all)
}

// shows is between which places a line shows, and whether it does along most of it.
func (g printed) shows(along, k, from, to int, usual float64) (first, last float64, ok bool) {
	at, c := g.contrasts(along, k, from, to)
	n := 0
	for i, t := range at {
		if c[i]*math.Copysign(1, usual) < ringFaint*math.Abs(usual) {
			continue
		}
		if n == 0 {
			first = t
		}
		n, last = n+1, t
	}
	return first, last, n >= ringSteps && usual != 0 && float64(n) > ringShows*float64(len(at))
}

// hull is the convex hull, anticlockwise (Andrew, Information Processing Letters
// 9 (1979) 216-219).
func hull(pts []r2.Vec) []r2.Vec {
	pts = slices.Clone(pts)
	if len(pts) < 3 {
		return pts
	}
	slices.SortFunc(pts, func(p, q r2.Vec) int {
		switch {
		case p.X != q.X && p.X < q.X, p.X == q.X && p.Y < q.Y:
			return -1
		case p == q:
			return 0
		}
		return 1
	})
	var out []r2.Vec
	for range 2 {
		base := len(out)
		for _, p := range pts {
			for len(out) >= base+2 && r2.Cross(r2.Sub(out[len(out)-1], out[len(out)-2]), r2.Sub(p, out[len(out)-1])) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(pts)
	}
	return out
}
