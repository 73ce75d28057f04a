package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A point drawn before a plain end where the edge shows none goes, however long; one that
// the edge shows stays.
func TestBareNeedle(t *testing.T) {
	const long = 14.0
	for name, c := range map[string]struct {
		seen body
		from float64 // station of the drawn point
		left int     // joints
	}{
		"shown":     {body{{s: 0, r: 0.8}, {s: long, r: 9}, {s: 60, r: 9}, {s: 110, r: 6}}, 0, 4},
		"not shown": {body{{s: 0, r: 9}, {s: 60 - long, r: 9}, {s: 110 - long, r: 6}}, -long, 3},
	} {
		sc := sceneOf(t, rand.New(rand.NewPCG(3, 4)), c.seen, 0)
		v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		drawn := []joint{{c.from, 0.8}, {c.from + long, 9}, {c.from + 60, 9}, {c.from + 110, 6}}
		f := fitting{view: v, axis: sc.axis, form: form{slices.Clone(drawn), make([]span, 3)}}
		f.look(make([]bool, len(sc.edge)))
		if gone := f.capless(); gone != (c.left < 4) || len(f.form.joints) != c.left {
			t.Errorf("%s: something goes: %v; left are %v", name, gone, f.form.joints)
		}
		if first := f.form.joints[0]; first != drawn[4-c.left] {
			t.Errorf("%s: begins at %v", name, first)
		}
	}
}

// A disc drawn to a point where the edge shows none goes; one that the edge shows stays, and so does
// what is low.
func TestPeakless(t *testing.T) {
	plain := body{{s: 0, r: 9}, {s: 110, r: 9}}
	disc := body{{s: 0, r: 9}, {s: 50, r: 9}, {s: 55, r: 18}, {s: 60, r: 9}, {s: 110, r: 9}}
	for name, c := range map[string]struct {
		seen  body
		drawn float64 // radius of the disc as drawn
		left  int     // joints
	}{
		"shown":     {disc, 18, 5},
		"not shown": {plain, 18, 4},
		"low":       {plain, 10.5, 5},
	} {
		sc := sceneOf(t, rand.New(rand.NewPCG(5, 6)), c.seen, 0)
		v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		f := fitting{view: v, axis: sc.axis, form: form{[]joint{{0, 9}, {50, 9}, {55, c.drawn}, {60, 9}, {110, 9}}, make([]span, 4)}}
		f.look(make([]bool, len(sc.edge)))
		if gone := f.peakless(); gone != (c.left < 5) || len(f.form.joints) != c.left {
			t.Errorf("%s: something goes: %v; left are %v", name, gone, f.form.joints)
		}
	}
}

// A peak whose neighbours stand at one station has no line to put in its place: it stays.
func TestPeakOverNothing(t *testing.T) {
	sc := sceneOf(t, rand.New(rand.NewPCG(5, 6)), body{{s: 0, r: 9}, {s: 110, r: 9}}, 0)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	f := fitting{view: v, axis: sc.axis, form: form{[]joint{{0, 9}, {50, 9}, {50, 18}, {50, 9}, {110, 9}}, make([]span, 4)}}
	f.look(make([]bool, len(sc.edge)))
	if f.peakless() {
		t.Errorf("left are %v", f.form.joints)
	}
}

// Blunt ends with small chamfers keep them: their own rims bear them out, where the chamfer
// itself is too short to show.
func TestBluntCapStays(t *testing.T) {
	for seed := range uint64(6) {
		seen := body{{s: 0, r: 11}, {s: 0.8, r: 12}, {s: 59.2, r: 12}, {s: 60, r: 11}}
		sc := sceneOf(t, rand.New(rand.NewPCG(7, seed)), seen, 0)
		v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		f := fitting{view: v, axis: sc.axis, form: form{
			[]joint{{0, 0}, {0, 11}, {0.8, 12}, {59.2, 12}, {60, 11}, {60, 0}},
			[]span{{kind: faceSpan}, {}, {}, {}, {kind: faceSpan}},
		}}
		f.look(make([]bool, len(sc.edge)))
		if f.capless() {
			t.Errorf("camera %d: left are %v", seed, f.form.joints)
		}
	}
}

// A tip that runs on past where the silhouette closes is cut off there, an arc as bent as it
// was; one that the silhouette reaches stays.
func TestDrawnIn(t *testing.T) {
	seen := body{{s: 0, r: 1}, {s: 30, r: 9}, {s: 110, r: 9}}
	sc := sceneOf(t, rand.New(rand.NewPCG(9, 8)), seen, 0)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	arc := span{arcSpan, 0.4}
	for name, c := range map[string]struct {
		tip  float64
		span span
		cut  bool
	}{"a line": {-3.75, span{}, true}, "an arc": {-3.75, arc, true}, "short": {-0.5, span{}, false}} {
		f := fitting{view: v, axis: sc.axis, form: form{[]joint{{c.tip, 0}, {30, 9}, {110, 9}}, []span{c.span, {}}}}
		f.look(make([]bool, len(sc.edge)))
		bend := arcOver(f.form.joints[0], f.form.joints[1], c.span.rise).bend
		if cut := f.drawnIn(); cut != c.cut || len(f.form.joints) != 3 {
			t.Fatalf("%s: cut %v, left are %v", name, cut, f.form.joints)
		}
		first := f.form.joints[0]
		if c.cut && (first.s < -0.6 || first.s > 0.6 || first.r < 0.2) || !c.cut && first.s != c.tip {
			t.Errorf("%s: begins at %v", name, first)
		}
		if s := f.form.spans[0]; s.kind != c.span.kind || s.kind == arcSpan && math.Abs(arcOver(first, f.form.joints[1], s.rise).bend/bend-1) > 1e-6 {
			t.Errorf("%s: goes on as %v, bent by %v before", name, s, bend)
		}
	}
}
