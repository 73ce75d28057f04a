package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"scalewright/craft/limb"
	"scalewright/model"
)

// randomForm is a body of lines, arcs and steps, none narrower than a millimetre.
func randomForm(t *rapid.T) (f form) {
	s, r := 0.0, rapid.Float64Range(2, 15).Draw(t, "first radius")
	f.joints = []joint{{s, r}}
	for range rapid.IntRange(1, 7).Draw(t, "spans") {
		a := f.joints[len(f.joints)-1]
		next := joint{a.s + rapid.Float64Range(1, 25).Draw(t, "along"), rapid.Float64Range(1, 20).Draw(t, "radius")}
		g := span{}
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			next.r = a.r
		case 1:
			g.kind = arcSpan
			g.rise = rapid.Float64Range(-0.99, 0.99).Draw(t, "rise") * risesMost(a, next)
			if math.Abs(next.r-a.r) > next.s-a.s { // steep hollows are touched at their rims
				g.rise = math.Abs(g.rise)
			}
		case 2:
			if len(f.spans) > 0 && f.spans[len(f.spans)-1].kind != faceSpan {
				next.s = a.s
				g.kind = faceSpan
			}
		}
		f.joints, f.spans = append(f.joints, next), append(f.spans, g)
	}
	if n := len(f.spans); f.spans[n-1].kind == faceSpan { // an end has its face anyway
		f.joints, f.spans = f.joints[:n], f.spans[:n-1]
	}
	return f
}

// slowGap is how far outside a body a ray passes, from the definition: the least distance
// of its places from the polygon of the body's half plane, 0 where one lies inside.
func slowGap(f *form, c, d r3.Vec) float64 {
	o := f.outline(0, false)
	if len(o) == 0 {
		return math.Inf(1)
	}
	line := o.Polyline(1e-5)
	first, last := line[0], line[len(line)-1]
	first.Radius, last.Radius = 0, 0
	line = append(append([]model.Point{first}, line...), last)
	at := func(t float64) float64 {
		x := r3.Add(c, r3.Scale(t, d))
		s, r := x.X, math.Hypot(x.Y, x.Z)
		best, in := math.Inf(1), false
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			ds, dr := b.Station-a.Station, b.Radius-a.Radius
			if l := ds*ds + dr*dr; l > 0 {
				k := min(1, max(0, ((s-a.Station)*ds+(r-a.Radius)*dr)/l))
				best = min(best, math.Hypot(s-a.Station-k*ds, r-a.Radius-k*dr))
			}
			if a.Station <= s && s < b.Station && r < a.Radius+(s-a.Station)/ds*dr {
				in = true
			}
		}
		if in {
			return 0
		}
		return best
	}
	mid := -r3.Dot(c, d)
	best, where := math.Inf(1), 0.0
	for t := mid - 150; t < mid+150; t += 0.25 {
		if g := at(t); g < best {
			best, where = g, t
		}
	}
	for step := 0.125; step > 1e-7; step /= 2 {
		for _, t := range [2]float64{where - step, where + step} {
			if g := at(t); g < best {
				best, where = g, t
			}
		}
	}
	return best
}

// slowDoubt is how near, mm, slowGap comes: it may miss the lowest of two near minima.
const slowDoubt = 3e-3

// Law: the gap of a ray that passes outside is the least distance between the two.
func TestTouchesAgainstDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := randomForm(t)
		// The axis is the world's X; the camera stands some 400 mm off.
		c := r3.Vec{X: rapid.Float64Range(-150, 250).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y"), Z: 400}
		to := r3.Vec{X: rapid.Float64Range(-25, 120).Draw(t, "to x"), Y: rapid.Float64Range(-25, 25).Draw(t, "to y")}
		d := r3.Unit(r3.Sub(to, c))
		want := slowGap(&f, c, d)
		if want == 0 || want > 5 {
			t.Skip("runs through, or far off")
		}
		p := limb.PassOf(r3.Vec{}, r3.Vec{X: 1}, c, d)
		m := touches(f.parts(), &p, f.most())
		if !m.ok || math.Abs(m.gap-want) > slowDoubt {
			t.Fatalf("gap %v at %+v (%v), want %v\n%+v", m.gap, m.at, m.ok, want, f)
		}
	})
}
