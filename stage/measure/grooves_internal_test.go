package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// plainSeen is a plain rod of radius 9 mm in a photograph, and a form of it.
func plainSeen(t *testing.T) (view, axis, form) {
	sc := sceneOf(t, rand.New(rand.NewPCG(5, 6)), body{{s: 0, r: 9}, {s: 110, r: 9}}, 0)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	return v, sc.axis, form{[]joint{{0, 9}, {110, 9}}, make([]span, 1)}
}

// dented is a view whose edge stands in between two stations, on one side of the axis or on
// both, as strays do.
func dented(v view, a axis, from, to, deep float64, sides ...float64) view {
	edge := slices.Clone(v.edge)
	across := r3.Cross(a.u, r3.Sub(v.cam.C, a.p))
	for i, e := range edge {
		t := a.contact(v.cam.C, v.sight[i])
		side := math.Copysign(1, r3.Dot(v.sight[i].d, across))
		if t.ok && t.s > from && t.s < to && slices.Contains(sides, side) {
			edge[i].at = r2.Sub(e.at, r2.Scale(deep/mmPerPixel(v, a), e.out))
			edge[i].good, edge[i].stray = false, true
		}
	}
	return view{v.cam, edge, sights(v.cam, edge)}
}

// What stands in on both sides alike is a groove, however narrow; on one side it is a stray.
func TestGrooved(t *testing.T) {
	v, a, g := plainSeen(t)
	for name, c := range map[string]struct {
		from, to float64
		sides    []float64
		want     int
	}{
		"a groove":      {50, 51.6, []float64{-1, 1}, 1},
		"one side":      {50, 51.6, []float64{1}, 0},
		"a wide trough": {50, 60, []float64{-1, 1}, 0},
		"at an end":     {1, 2.6, []float64{-1, 1}, 0},
	} {
		w := dented(v, a, c.from, c.to, 1.2, c.sides...)
		found := w.grooves(a, &g)
		if len(found) != c.want {
			t.Fatalf("%s: %v", name, found)
		}
		o := solution{axis: a, form: g}
		w.grooved(&o)
		n := 0
		for _, e := range w.edge {
			if e.groove {
				n++
			}
		}
		if (n > 0) != (c.want > 0) {
			t.Errorf("%s: %d points count", name, n)
		}
		if c.want > 0 && (math.Abs(found[0].from-c.from) > 0.4 || math.Abs(found[0].to-c.to) > 0.4 || math.Abs(found[0].deep-1.2) > 0.3) {
			t.Errorf("%s is found as %v", name, found[0])
		}
	}
}

// A groove takes two numbers less than its joints have, where its shoulders are level.
func TestCountGrooves(t *testing.T) {
	groove := func(floor, other, wide float64) form {
		return form{
			joints: []joint{{0, 9}, {50, 9}, {50, floor}, {50 + wide, floor}, {50 + wide, other}, {110, other}},
			spans:  []span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}},
		}
	}
	for name, c := range map[string]struct {
		form form
		want int
	}{"a groove": {groove(8, 9, 1.6), 1}, "a collar": {groove(10, 9, 1.6), 0}, "a step": {groove(8, 10, 1.6), 0}, "a trough": {groove(8, 9, 9), 0}, "a slit": {groove(8, 9, 0.3), 0}} {
		if got := c.form.grooves(); got != c.want {
			t.Errorf("%s: %d", name, got)
		}
	}
}

// A pit may be a groove: as wide, its floor level; what is wide or shallow is left.
func TestGrooveForPit(t *testing.T) {
	g := form{[]joint{{0, 9}, {50, 9}, {52, 7}, {52, 9}, {110, 9}}, []span{{}, {}, {kind: faceSpan}, {}}}
	if !g.groove(2, 0.5) {
		t.Fatal("not tried")
	}
	want := []joint{{0, 9}, {50, 9}, {50, 8}, {52, 8}, {52, 9}, {110, 9}}
	if !slices.Equal(g.joints, want) || len(g.spans) != 5 || g.spans[1].kind != faceSpan || g.spans[2].kind != lineSpan || g.spans[3].kind != faceSpan {
		t.Errorf("%v", g)
	}
	for name, all := range map[string][]joint{
		"wide":    {{0, 9}, {50, 9}, {57, 7}, {57, 9}, {110, 9}},
		"shallow": {{0, 9}, {50, 9}, {52, 8.99}, {52, 9}, {110, 9}},
		"a peak":  {{0, 9}, {50, 9}, {52, 11}, {52, 9}, {110, 9}},
	} {
		g := form{all, []span{{}, {}, {kind: faceSpan}, {}}}
		if g.groove(2, 0) {
			t.Errorf("%s becomes %v", name, g)
		}
	}
}

// A pit that the silhouette fills is none, pointed or with a floor; one that shows stays, and
// so does one that is hardly deep.
func TestPitless(t *testing.T) {
	v, a, _ := plainSeen(t)
	open := dented(v, a, 49.5, 55.5, 6, -1, 1)
	pointed := form{[]joint{{0, 9}, {50, 9}, {52, 3}, {55, 9}, {110, 9}}, make([]span, 4)}
	floored := form{[]joint{{0, 9}, {50, 9}, {50, 3}, {55, 3}, {55, 9}, {110, 9}}, []span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}}}
	slit := form{[]joint{{0, 9}, {50, 9}, {50, 3}, {50.1, 3}, {50.1, 9}, {110, 9}}, []span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}}}
	past := form{[]joint{{0, 9}, {50, 9}, {50, 3}, {50, 6}, {110, 6}}, []span{{}, {kind: faceSpan}, {kind: faceSpan}, {}}}
	neck := form{[]joint{{0, 9}, {50, 9}, {58, 0.1}, {70, 9}, {110, 9}}, make([]span, 4)}
	needle := form{[]joint{{0, 9}, {50, 9}, {100, 0.3}, {110, 0}}, make([]span, 3)}
	low := form{[]joint{{0, 9}, {50, 9}, {52, 7.5}, {55, 9}, {110, 9}}, make([]span, 4)}
	for name, c := range map[string]struct {
		seen view
		form form
		left int
	}{
		"pointed": {v, pointed, 4}, "with a floor": {v, floored, 4}, "low": {v, low, 5},
		"a slit": {open, slit, 4}, "a step that goes past its foot": {open, past, 4}, "a neck of nothing": {open, neck, 4}, "a needle": {open, needle, 4},
		"pointed, shown": {open, pointed, 5}, "with a floor, shown": {open, floored, 6},
	} {
		f := fitting{view: c.seen, axis: a, form: c.form.clone()}
		f.look(make([]bool, len(c.seen.edge)))
		if gone := f.pitless(); gone != (c.left < len(c.form.joints)) || len(f.form.joints) != c.left || len(f.form.spans) != c.left-1 {
			t.Errorf("%s: something goes: %v; left are %v", name, gone, f.form)
		}
	}
}
