package measure

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// A body leaned as its rims have it lies on one place alone only where something that does
// not show may hold its other end: what is hidden reaches no farther than the outline.
func TestHeldUp(t *testing.T) {
	cam := &camera.Camera{F: 1000, Cx: 499.5, Cy: 374.5, C: r3.Vec{X: 50, Z: 400}}
	cam.R = [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	flange := joint{20, 25} // its weight lies about station 50
	for name, c := range map[string]struct {
		other, slope float64 // radius of the body at its other end; of the axis, rad
		dark         bool    // nothing was read there
		fin          bool    // something stands out there, as far as the flange
		set          settings
		want         bool
	}{
		"all shows, too narrow":            {other: 10},
		"dark, and too narrow":             {other: 10, dark: true},
		"dark, and as wide":                {other: 25, dark: true, want: true},
		"dark, and as wide as leaned":      {other: 12, slope: -0.2, dark: true, want: true},
		"a fin beyond the weight":          {other: 10, fin: true, want: true},
		"the maker says that it is hidden": {other: 10, set: settings{hidden: []hidden{{70, 80}}}, want: true},
		"the maker says what it rests on":  {other: 10, set: settings{rests: []Rest{{StationMM: 90, ReachMM: 25}}}, want: true},
	} {
		a := axis{r3.Vec{Z: 25}, r3.Vec{X: 1}}
		o := solution{axis: a, form: form{
			joints: []joint{{0, 10}, {19, 10}, {19, 25}, {21, 25}, {21, 10}, {80, 10}, {80, c.other}, {100, c.other}},
			spans:  []span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}, {kind: faceSpan}, {}},
		}}
		o.hi.s = 100
		for s := 0.0; s <= 100; s += stationStep {
			r, _ := o.form.at(s)
			st := station{s: s, r: r, seen: bothSides}
			if c.dark && s > 85 && s < 95 {
				st = station{s: s}
			}
			o.prof = append(o.prof, st)
		}
		v := view{cam: cam, sight: []sight{{d: r3.Unit(r3.Sub(r3.Vec{X: 90, Y: 25, Z: 25}, cam.C))}}}
		v.edge = make([]edgePoint, 1)
		o.skip = []bool{c.fin}
		if got := o.held(c.set, v, flange, c.slope); got != c.want {
			t.Errorf("%s: held %v", name, got)
		}
	}
}

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
		if back.lipless() != c.want {
			t.Errorf("%s, turned round: %v", name, back)
		}
	}
}
