package place_test

import (
	"math"
	"testing"

	"scalewright/model"
	"scalewright/unit"
)

// In a waist that leaves no cable room beside the core, a way runs inside it, in and
// out by a hole on either side; a hole of 14 mm keeps 6 mm off the waist.
func TestWayThroughTheCore(t *testing.T) {
	in := waisted(140, 160, 29)
	in.Design.Components = []model.Component{
		at(sized(component("brain", "controller-328"), 10, 8, 4), 80, 0),
		at(sized(component("player", "sound-player"), 10, 8, 4), 250, 2),
	}
	p, found := run(t, in)
	if len(found) > 0 || len(p.Ways) != 1 {
		t.Fatal(p, found)
	}
	holes := p.CoreHoles()
	if len(holes) != 2 || holes[0].Station > 140-13 || holes[1].Station < 160+13 {
		t.Fatalf("holes %+v", holes)
	}
	core := in.Design.Core.Stock
	for i, q := range p.Ways[0].Path {
		r, beside := math.Hypot(float64(q[0]), float64(q[1])), float64(core.OD)/2
		inside := q[2] > holes[0].Station && q[2] < holes[1].Station
		if inside && r > beside-float64(core.Wall) || !inside && r < beside && q[2] != holes[0].Station && q[2] != holes[1].Station {
			t.Errorf("corner %d at %v", i, q)
		}
	}
	// Along 170 mm, and what it goes in, out and round; 15 % and 100 mm of slack.
	if l := float64(p.Ways[0].Length); l < 170*1.15+100 || l > 700 {
		t.Errorf("%v long", l)
	}
	// Were the waist 5 mm wider it would pass beside the core: 25.4 at its widest, 2 mm
	// off it, 5 mm of cable and 1 mm.
	wide := waisted(140, 160, 34)
	wide.Design.Components = in.Design.Components
	if p, found = run(t, wide); len(found) > 0 || len(p.CoreHoles()) > 0 {
		t.Errorf("in a wide waist: holes %v, %v", p.CoreHoles(), found)
	}
}

// Whatever is asked for, nothing breaks: a finding or a bay comes back, the same one
// each time.
func TestWhatMakesNoSense(t *testing.T) {
	huge, none := component("huge", "bank-10000"), component("none", "sound-player")
	huge.Kind.Size, none.Kind.Size, none.Kind.Plug = [3]unit.Length{1e9, 1e9, 1e9}, [3]unit.Length{}, 0
	strip := component("glow", "strip-60")
	for name, c := range map[string]model.Component{
		"huge": huge, "no size": none, "far off": at(component("brain", "controller-328"), 1e12, 1e6),
		"below": at(component("brain", "controller-328"), -1e12, -1e6), "a strip of nothing": strip,
	} {
		in := drum()
		in.Design.Components = []model.Component{c}
		p, found := run(t, in)
		if len(p.Bays)+len(found) != 1 {
			t.Errorf("%s: %v, %v", name, p.Bays, found)
		}
		for _, b := range p.Bays {
			for k := range 3 {
				if v := float64(b.Centre[k]) + float64(b.Size[k]); v-v != 0 {
					t.Errorf("%s lies at %v", name, b.Centre)
				}
			}
		}
	}
	empty := drum()
	empty.Raw[0].FootDown, empty.Raw[0].NoseDown = nil, nil
	empty.Design.Components = []model.Component{component("brain", "controller-328")}
	if p, found := run(t, empty); len(p.Bays) != 0 || !found.Blocked() {
		t.Errorf("in a part without a cavity: %v, %v", p.Bays, found)
	}
}
