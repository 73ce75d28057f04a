package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// Where one side goes in and comes out again, sure of itself, and the other goes straight on,
// unsure since a printed line runs along it, the body goes straight on.
func TestDentOnOneSide(t *testing.T) {
	sc := sceneOf(t, rand.New(rand.NewPCG(51, 52)), body{{s: 0, r: 10}, {s: 40, r: 15}, {s: 110, r: 15}, {s: 120, r: 9}}, 0)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	const from, to, in = 62.0, 74.0, 10.0 // pixels
	for i, e := range sc.edge {
		switch c := sc.axis.contact(v.cam.C, v.sight[i]); {
		case c.s < from || c.s > to:
		case e.out.Y > 0:
			sc.edge[i].at, sc.edge[i].sigma = r2.Add(e.at, r2.Scale(-in, e.out)), 0.05
		default:
			sc.edge[i].sigma = 0.5
		}
	}
	_, sol := solved(t, sc)
	for s := from - 5; s < to+5; s++ {
		if r, _ := sol.form.at(sol.lo.s + s); math.Abs(r-15) > 0.2 {
			t.Errorf("radius %.3f at station %.0f, want 15", r, s)
		}
	}
}

// Of two sides that contradict each other, by their radii in steps of a millimetre, the one
// that goes to and fro is not believed, unless it shows a narrow groove crisply; where neither
// does, the wider one, if they lie wide apart.
func TestDisbelieved(t *testing.T) {
	sc := sceneOf(t, rand.New(rand.NewPCG(53, 54)), body{{s: 0, r: 10}, {s: 100, r: 10}}, 0)
	f := fitting{view: view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}, axis: sc.axis}
	flat := func(n int, r float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = r
		}
		return out
	}
	for name, c := range map[string]struct {
		left, right []float64
		crisp, wide bool
		want        int
	}{
		"a dent":             {flat(9, 8.5), flat(9, 10), true, true, 0},
		"a spur":             {flat(9, 10), flat(9, 11.5), true, true, 1},
		"a groove":           {flat(3, 8.5), flat(3, 10), true, true, 1},
		"a narrow dent":      {flat(3, 8.5), flat(3, 10), false, true, 0},
		"to and fro":         {flat(4, 10), []float64{10, 10.7, 9.3, 10}, false, false, 1},
		"wider by a little":  {flat(4, 10), flat(4, 10.2), true, false, -1},
		"wider, going apart": {[]float64{10, 9.9, 9.7, 9.4}, []float64{10, 10.1, 10.3, 10.6}, true, true, 1},
	} {
		n := len(c.left)
		say := make([][2]saying, n+2)
		say[0] = [2]saying{{n: 5, past: 50}, {n: 5, past: 50}}
		say[n+1] = [2]saying{{n: 5, past: 5 * c.left[n-1]}, {n: 5, past: 5 * c.right[n-1]}}
		if c.left[n-1] == c.left[0] && c.right[n-1] == c.right[0] {
			say[n+1] = say[0]
		}
		for i := range n {
			say[i+1] = [2]saying{{n: 5, past: 5 * c.left[i]}, {n: 5, past: 5 * c.right[i]}}
			if c.crisp {
				say[i+1][0].crisp, say[i+1][1].crisp = 5, 5
			}
		}
		if got := f.disbelieved(say, 1, n, c.wide); got != c.want {
			t.Errorf("%s: side %d, want %d", name, got, c.want)
		}
	}
}
