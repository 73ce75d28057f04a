package place_test

import (
	"fmt"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/place"
	"scalewright/stock"
	"scalewright/unit"
)

// waisted is a drum whose cavity narrows to a radius between two stations.
func waisted(from, to, radius float64) place.Input {
	in := drum()
	line := []model.Point{{Station: 0, Radius: 100}, {Station: from, Radius: 100}, {Station: from, Radius: radius}, {Station: to, Radius: radius}, {Station: to, Radius: 100}, {Station: 300, Radius: 100}}
	in.Raw[0].FootDown, in.Raw[0].NoseDown = line, line
	in.Division.Seats = nil
	return in
}

func at(c model.Component, station unit.Length, clocking float64) model.Component {
	c.Placed, c.Station, c.Clocking = true, station, clocking
	return c
}

// hatched gives the drum a panel in the room above its ring.
func hatched(in place.Input, wide, high unit.Length) place.Input {
	o := model.Opening{ID: "hatch", Part: "drum", Station: 200, Wide: wide, High: high, Panel: true}
	in.Design.Openings = append(in.Design.Openings, o)
	in.Division.Windows = append(in.Division.Windows, model.Window{Opening: o, Piece: in.Division.Pieces[0].ID, Radius: 103})
	return in
}

func holed(in place.Input, id string, station unit.Length) place.Input {
	o := model.Opening{ID: id, Part: "drum", Station: station, Across: 16}
	in.Design.Openings = append(in.Design.Openings, o)
	in.Division.Windows = append(in.Division.Windows, model.Window{Opening: o, Piece: in.Division.Pieces[0].ID, Radius: 103})
	return in
}

func button(id, opening string, deep unit.Length) model.Component {
	c := component(id, "button-16")
	c.Opening, c.Service, c.Kind.Size[2] = opening, model.Pressed, deep
	return c
}

func sized(c model.Component, l, w, h unit.Length) model.Component {
	c.Kind.Size = [3]unit.Length{l, w, h}
	return c
}

// Each thing that cannot be, or that its maker should know, has its own finding.
func TestFindings(t *testing.T) {
	rod := waisted(140, 200, 28)
	dowel, ok := stock.FindPipe("dowel-25")
	if !ok {
		t.Fatal("no dowel in stock")
	}
	rod.Design.Core.Stock = dowel
	rod.Raw[0].FootDown[2].Radius, rod.Raw[0].FootDown[3].Radius = 15, 15

	slim := drum()
	slim.Raw[0].FootDown = []model.Point{{Station: 0, Radius: 42}, {Station: 300, Radius: 42}}
	tiny := func(id, kind string, station unit.Length) model.Component {
		return at(sized(component(id, kind), 10, 8, 4), station, 0)
	}
	sealed := component("road", "bank-5000")
	sealed.Service = model.Sealed
	fin := component("brain", "controller-328")
	fin.Part = "fin"
	plug := component("plug", "adapter-5v3a")
	plug.Service, plug.Part = model.Outside, ""
	strip := component("glow", "strip-60")
	strip.Pixels, strip.Length = 500, 8333

	for _, c := range []struct {
		code       finding.Code
		in         place.Input
		components []model.Component
	}{
		{"not-hollow", drum(), []model.Component{fin}},
		{"no-room", drum(), []model.Component{sized(component("road", "bank-10000"), 300, 70, 15)}},
		{"place-taken", drum(), []model.Component{at(component("brain", "controller-328"), 200, 1), at(component("other", "sound-player"), 200, 1)}},
		{"place-blocked", drum(), []model.Component{at(component("brain", "controller-328"), 103, 1)}},
		{"place-narrow", waisted(140, 300, 42), []model.Component{at(component("player", "sound-player"), 220, 1)}},
		{"too-deep", holed(drum(), "hole", 200), []model.Component{button("go", "hole", 80)}},
		{"behind-taken", holed(holed(drum(), "hole", 200), "other", 210), []model.Component{button("go", "hole", 30), button("stop", "other", 30)}},
		{"no-room-behind", holed(drum(), "hole", 103), []model.Component{button("go", "hole", 30)}},
		{"no-room-behind", drum(), []model.Component{button("go", "nowhere", 30)}},
		{"strip-too-long", drum(), []model.Component{strip}},
		{"battery-sealed", drum(), []model.Component{sealed}},
		{"speaker-shut-in", drum(), []model.Component{component("voice", "speaker-40")}},
		{"opening-too-small", hatched(drum(), 60, 80), []model.Component{at(component("road", "bank-5000"), 200, 0)}},
		{"opening-too-far", hatched(drum(), 60, 60), []model.Component{at(component("brain", "controller-328"), 200, 3)}},
		{"no-way-along", rod, []model.Component{tiny("brain", "controller-328", 80), tiny("player", "sound-player", 250)}},
		{"no-way-out", drum(), []model.Component{component("brain", "controller-328"), plug}},
		{"no-pass", slim, []model.Component{tiny("brain", "controller-328", 50), tiny("player", "sound-player", 250)}},
	} {
		c.in.Design.Components = c.components
		if _, found := run(t, c.in); len(found) != 1 || found[0].Code != c.code {
			t.Errorf("%s: found %v", c.code, found)
		}
	}
	if p, found := run(t, drum()); len(p.Bays)+len(found) > 0 {
		t.Errorf("nothing gives %v, %v", p, found)
	}
}

// Where a finding says that a component may be moved to, it fits.
func TestCureOfAWishedPlace(t *testing.T) {
	for _, wish := range []unit.Length{103, 5, 295, 1000, -50} {
		in := drum()
		c := at(component("brain", "controller-328"), wish, 1)
		in.Design.Components = []model.Component{c}
		_, found := run(t, in)
		if len(found) != 1 || found[0].Code != "place-blocked" {
			t.Fatalf("at %v: %v", wish, found)
		}
		c.Station = unit.Length(found[0].Args["to"].(finding.Long))
		c.Clocking = float64(found[0].Args["turn"].(finding.Number)) * 3.14159265358979 / 180
		in.Design.Components = []model.Component{c}
		if _, found := run(t, in); len(found) != 0 {
			t.Errorf("moved from %v to %v: %v", wish, c.Station, found)
		}
	}
}

// What opens, by hand: a bank of 140 by 70 by 15 mm with a millimetre all round is
// 142 by 72 by 17. A panel's ledge takes 9 mm on each side, and an arc on a radius of
// 103 has the chord 2·103·sin(arc/206).
func TestWhatAnOpeningLetsThrough(t *testing.T) {
	for _, c := range []struct {
		wide, high, core unit.Length
		reached          bool
	}{
		{96, 160, 50, true},    // 76.1 by 142: flat
		{96, 159.9, 50, false}, // 142 passes nowhere
		{35.2, 160, 50, true},  // 17.2 by 142, on edge: 72 deep, and the room is 100 less 25.4 and 2
		{34.9, 160, 50, false},
		{35.2, 160, 63, false}, // 65.9 deep: not on edge
		{91.5, 160, 63, false}, // an arc of 73.5: 71.95
		{91.6, 160, 63, true},  // an arc of 73.6: 72.04
		{160, 92, 50, false},   // an arc of 142: 131 by 74
	} {
		in := hatched(drum(), c.wide, c.high)
		pipe, _ := stock.FindPipe(fmt.Sprintf("pressure-%.0f", float64(c.core)))
		in.Design.Core.Stock, in.Division.Seats = pipe, nil
		in.Design.Openings[0].Station, in.Division.Windows[0].Opening.Station = 150, 150
		in.Design.Components = []model.Component{at(component("road", "bank-10000"), 150, 0)}
		p, found := run(t, in)
		if found.Blocked() || len(p.Bays) != 1 {
			t.Fatal(found)
		}
		if got := len(p.Bays[0].Reached) == 1; got != c.reached {
			t.Errorf("%v by %v: reached %v, want %v", c.wide, c.high, got, c.reached)
		}
	}
}
