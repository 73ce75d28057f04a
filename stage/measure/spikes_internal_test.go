package measure

import (
	"math"
	"slices"
	"testing"
)

// A lip beside a step goes, on either side of the body; what is wide or high stays.
func TestLipless(t *testing.T) {
	step := func(wide, high float64) form {
		return form{
			joints: []joint{{0, 10}, {20, 10}, {20, 10 + high}, {20 + wide, 10 + high}, {20 + wide, 7}, {40, 7}},
			spans:  []span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}},
		}
	}
	for name, c := range map[string]struct {
		wide, high float64
		want       bool
	}{"a lip": {0.3, 0.5, true}, "a wide one": {0.8, 0.5, false}, "a disc": {0.3, 2, false}} {
		f := step(c.wide, c.high)
		if f.lipless() != c.want || (len(f.joints) == 4) != c.want {
			t.Errorf("%s: %v", name, f)
		}
		if c.want && (f.joints[1] != joint{20.3, 10} || f.joints[2] != joint{20.3, 7} || f.spans[1].kind != faceSpan) {
			t.Errorf("%s leaves %v", name, f)
		}
		g := step(c.wide, c.high)
		back := form{spans: g.spans}
		for i := range g.joints {
			j := g.joints[len(g.joints)-1-i]
			back.joints = append(back.joints, joint{40 - j.s, j.r})
		}
		if back.lipless() != c.want || c.want && (math.Abs(back.joints[1].s-19.7) > 1e-9 || math.Abs(back.joints[2].s-19.7) > 1e-9) {
			t.Errorf("%s, turned round: %v", name, back)
		}
	}
}

// goneCase is a form, and the joints that are left of it where something of it goes.
type goneCase struct {
	name   string
	joints []joint
	spans  []span
	want   []joint // nil: all stays
}

// checkGone asks of each form what one rule takes out of it.
func checkGone(t *testing.T, rule func(f *form) bool, all []goneCase) {
	t.Helper()
	for _, tt := range all {
		f := form{slices.Clone(tt.joints), slices.Clone(tt.spans)}
		got, want := rule(&f), tt.want
		if want == nil {
			want = tt.joints
		}
		if got != (tt.want != nil) || !slices.Equal(f.joints, want) || len(f.spans)+1 != len(f.joints) {
			t.Errorf("%s: gone %v: %v %v", tt.name, got, f.joints, f.spans)
		}
	}
}

// A short steep rise before a face that falls by more is no part of the body, from either
// side; what is wide, gentle or high stays.
func TestPointless(t *testing.T) {
	face := span{kind: faceSpan}
	checkGone(t, (*form).pointless, []goneCase{
		{"before a face", []joint{{0, 18}, {35, 18}, {35.2, 18.5}, {35.2, 15}, {60, 15}}, []span{{}, {}, face, {}}, []joint{{0, 18}, {35.2, 18}, {35.2, 15}, {60, 15}}},
		{"after a face", []joint{{0, 15}, {35, 15}, {35, 18.5}, {35.2, 18}, {60, 18}}, []span{{}, face, {}, {}}, []joint{{0, 15}, {35, 15}, {35, 18}, {60, 18}}},
		{"wide", []joint{{0, 18}, {34, 18}, {35.2, 18.5}, {35.2, 15}, {60, 15}}, []span{{}, {}, face, {}}, nil},
		{"gentle", []joint{{0, 18}, {34.8, 18}, {35.2, 18.1}, {35.2, 15}, {60, 15}}, []span{{}, {}, face, {}}, nil},
		{"high", []joint{{0, 18}, {35, 18}, {35.2, 19.5}, {35.2, 15}, {60, 15}}, []span{{}, {}, face, {}}, nil},
		{"before a low face", []joint{{0, 18}, {35, 18}, {35.2, 18.5}, {35.2, 18}, {60, 18}}, []span{{}, {}, face, {}}, nil},
	})
}

// A low face before a steep slant that falls by more is no part of the body, from either side;
// before a gentle one, or as high as the slant, it stays.
func TestStepless(t *testing.T) {
	face := span{kind: faceSpan}
	checkGone(t, (*form).stepless, []goneCase{
		{"before a slant", []joint{{0, 18}, {35, 18}, {35, 18.5}, {36.4, 15}, {60, 15}}, []span{{}, face, {}, {}}, []joint{{0, 18}, {35, 18}, {36.4, 15}, {60, 15}}},
		{"after a slant", []joint{{0, 15}, {33.6, 15}, {35, 18.5}, {35, 18}, {60, 18}}, []span{{}, {}, face, {}}, []joint{{0, 15}, {33.6, 15}, {35, 18}, {60, 18}}},
		{"before a cone", []joint{{0, 18}, {35, 18}, {35, 18.5}, {45, 15}, {60, 15}}, []span{{}, face, {}, {}}, nil},
		{"a high one", []joint{{0, 18}, {35, 18}, {35, 19.5}, {36.4, 15}, {60, 15}}, []span{{}, face, {}, {}}, nil},
		{"a chamfer", []joint{{0, 18}, {35, 18}, {35, 18.5}, {35.3, 18.2}, {60, 18.2}}, []span{{}, face, {}, {}}, nil},
	})
}

// A hollow that runs out in a knife's edge before a face is drawn straight, from either side;
// one that runs out gently stays, and so does a rounding.
func TestKnifeless(t *testing.T) {
	face, hollow := span{kind: faceSpan}, func(rise float64) span { return span{arcSpan, rise} }
	rising := []joint{{0, 15}, {2, 16}, {2, 14}, {20, 14}}
	falling := []joint{{0, 14}, {10, 14}, {10, 16}, {12, 15}}
	for _, tt := range []struct {
		name   string
		joints []joint
		spans  []span
		at     int
		gone   bool
	}{
		{"steep, before a face", rising, []span{hollow(-0.5), face, {}}, 0, true},
		{"gentle", rising, []span{hollow(-0.1), face, {}}, 0, false},
		{"a rounding", rising, []span{hollow(0.4), face, {}}, 0, false},
		{"steep, after a face", falling, []span{{}, face, hollow(-0.5)}, 2, true},
		{"no face", []joint{{0, 15}, {2, 16}, {4, 14}, {20, 14}}, []span{hollow(-0.5), {}, {}}, 0, false},
	} {
		f := form{slices.Clone(tt.joints), tt.spans}
		if got := f.knifeless(); got != tt.gone || (f.spans[tt.at].kind == lineSpan) != tt.gone {
			t.Errorf("%s: straightened %v: %v", tt.name, got, f.spans)
		}
	}
}
