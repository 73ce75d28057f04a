package measure

import (
	"math"
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
