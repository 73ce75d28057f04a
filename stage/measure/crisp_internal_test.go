package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Short slants and roundings become faces, a peak a rim between two; a long cone, a chamfer
// and what leads to an end stay.
func TestCrisp(t *testing.T) {
	sc := sceneOf(t, rand.New(rand.NewPCG(5, 6)), body{{s: 0, r: 9}, {s: 110, r: 9}}, 0)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	line, round := span{}, span{kind: arcSpan, rise: 0.2}
	for _, tt := range []struct {
		name   string
		joints []joint
		spans  []span
		faces  int
	}{
		{"a slant", []joint{{0, 9}, {50, 9}, {53, 18}, {110, 18}}, []span{line, line, line}, 1},
		{"a slant and a rounding", []joint{{0, 9}, {50, 9}, {53, 17}, {54, 18}, {110, 18}}, []span{line, line, round, line}, 1},
		{"a peak", []joint{{0, 9}, {50, 9}, {54, 18}, {58, 9}, {110, 9}}, []span{line, line, line, line}, 2},
		{"a long cone", []joint{{0, 9}, {50, 9}, {68, 18}, {110, 18}}, []span{line, line, line}, 0},
		{"a chamfer", []joint{{0, 9}, {50, 9}, {53, 12}, {110, 12}}, []span{line, line, line}, 0},
		{"a slant before a low face", []joint{{0, 9}, {50, 9}, {53, 18}, {53, 15}, {110, 15}}, []span{line, line, {kind: faceSpan}, line}, 2},
		{"a slant too long, its tail not", []joint{{0, 9}, {50, 9}, {64, 18}, {67, 24}, {110, 24}}, []span{line, line, line, line}, 0},
		{"a dome at the low end", []joint{{0, 2}, {1, 6}, {3, 12}, {60, 12}, {110, 12}}, []span{line, line, line, line}, 0},
		{"a dome at the high end", []joint{{0, 12}, {60, 12}, {107, 12}, {109, 6}, {110, 2}}, []span{line, line, line, line}, 0},
		{"an end's chamfer", []joint{{0, 5}, {2, 9}, {60, 9}, {110, 9}}, []span{line, line, line}, 0},
	} {
		f := fitting{view: v, axis: sc.axis, form: form{tt.joints, tt.spans}}
		got, faces := f.crisp(), 0
		for i, s := range got.spans {
			if s.kind == faceSpan {
				faces++
				if got.joints[i].s != got.joints[i+1].s {
					t.Errorf("%s: a face from %g to %g mm", tt.name, got.joints[i].s, got.joints[i+1].s)
				}
			}
		}
		if faces != tt.faces || len(got.joints) != len(got.spans)+1 {
			t.Errorf("%s: %d faces, want %d: %v", tt.name, faces, tt.faces, got)
		}
	}
}

// A spool that is drawn with slants about an axis turned from its own is explained by faces
// about its own; where there are slants they stay.
func TestCrisped(t *testing.T) {
	const step = 0.01
	spool := body{
		{s: 0, r: 5},
		{s: 20, r: 5},
		{s: 20 + step, r: 20},
		{s: 24, r: 20},
		{s: 24 + step, r: 5},
		{s: 86, r: 5},
		{s: 86 + step, r: 20},
		{s: 90, r: 20},
		{s: 90 + step, r: 5},
		{s: 110, r: 5},
	}
	cones := body{{s: 0, r: 5}, {s: 18, r: 5}, {s: 22, r: 20}, {s: 26, r: 5}, {s: 84, r: 5}, {s: 88, r: 20}, {s: 92, r: 5}, {s: 110, r: 5}}
	slants := []joint{{0, 5}, {18, 5}, {21.5, 20}, {22.5, 20}, {26, 5}, {84, 5}, {87.5, 20}, {88.5, 20}, {92, 5}, {110, 5}}
	for _, tt := range []struct {
		name string
		b    body
		turn float64 // degrees of the axis from its own
		want bool
	}{{"a spool", spool, 1.5, true}, {"cones, rim to rim", cones, 0, false}} {
		sc := sceneOf(t, rand.New(rand.NewPCG(7, 8)), tt.b, 0)
		v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		f := fitting{view: v, axis: sc.axis, scale: 1, form: form{slants, make([]span, len(slants)-1)}}
		f.axis.u = r3.Rotate(sc.axis.u, tt.turn*deg, r3.Unit(r3.Cross(sc.axis.u, r3.Vec{Z: 1})))
		f.rests = []touching{{at: joint{22, 20}, u: restDoubt}, {at: joint{88, 20}, u: restDoubt}}
		f.look(make([]bool, len(sc.edge)))
		f.home = f.form.clone()
		if !tt.want { // as they are seen
			f.descend(descents, holdNone)
		}
		if got := f.crisped(); got != tt.want {
			t.Errorf("%s: made of faces %v: %v", tt.name, got, f.form.joints)
		}
		if off := math.Acos(min(1, r3.Dot(f.axis.u, sc.axis.u))) / deg; off > 0.3 {
			t.Errorf("%s: the axis lies %.2f° off", tt.name, off)
		}
	}
}

// An outline turns inwards at the foot of a step, not at its rim nor along a side.
func TestHollowAt(t *testing.T) {
	var pts []r2.Vec // an L, walked as its inside lies to one known hand
	for _, leg := range [][2]r2.Vec{
		{{}, {X: 60}},
		{{X: 60}, {X: 60, Y: 20}},
		{{X: 60, Y: 20}, {X: 20, Y: 20}},
		{{X: 20, Y: 20}, {X: 20, Y: 60}},
		{{X: 20, Y: 60}, {Y: 60}},
		{{Y: 60}, {}},
	} {
		way := r2.Sub(leg[1], leg[0])
		for d := range int(r2.Norm(way)) {
			pts = append(pts, r2.Add(leg[0], r2.Scale(float64(d), r2.Unit(way))))
		}
	}
	if area(pts) < 0 {
		t.Fatal("walked the other way round")
	}
	for i, p := range pts {
		want := 0.0
		if p == (r2.Vec{X: 20, Y: 20}) {
			want = math.Pi / 2
		}
		near := math.Abs(p.X-20)+math.Abs(p.Y-20) < 6
		if got := hollowAt(pts, i, 5); math.Abs(got-want) > 1e-9 && !(near && want == 0) {
			t.Errorf("at %v: %.2f, want %.2f", p, got, want)
		}
	}
}
