package effects_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"scalewright/craft/electric"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/effects"
	"scalewright/stock"
	"scalewright/unit"
)

func of(id, kind string, change ...func(*model.Component)) model.Component {
	k, ok := stock.FindComponent(kind)
	if !ok {
		panic(kind)
	}
	c := model.Component{ID: id, Kind: k}
	for _, f := range change {
		f(&c)
	}
	return c
}

func pixels(n int) func(*model.Component) { return func(c *model.Component) { c.Pixels = n } }

// lamp is a strip of 16 with two buttons, sound, an adapter and a bank.
func lamp() effects.Input {
	return effects.Input{
		Components: []model.Component{
			of("amplifier", "amplifier-mono"), of("brain", "controller-328"), of("glow", "strip-60", pixels(16)), of("go", "button-16"),
			of("player", "sound-player"), of("plug", "adapter-5v3a"), of("road", "bank-10000"), of("voice", "speaker-57"),
		},
		Shows: []model.Show{
			{ID: "idle", Pattern: model.Steady, Colour: [3]uint8{255, 255, 255}, Level: 1},
			{ID: "start", Button: "go", Sound: 1, Pattern: model.Flicker, Colour: [3]uint8{255, 120, 0}, Level: 1, Lasts: 10},
		},
		Places: model.Places{Ways: []model.Way{{Wire: "plug-glow", Length: 2000}, {Wire: "plug-amplifier", Length: 1500}}},
		Site:   &model.Site{Hours: 10},
	}
}

func run(t testing.TB, in effects.Input) (model.Effects, map[finding.Code]finding.Finding) {
	t.Helper()
	e, list, err := effects.Run(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	found := map[finding.Code]finding.Finding{}
	for _, f := range list {
		found[f.Code] = f
	}
	return e, found
}

func ExampleRun() {
	e, _ := run(&testing.B{}, lamp())
	for _, w := range e.Wires[:2] {
		fmt.Printf("%s AWG %d, %.2f A\n", w.Wire.ID, w.Gauge, w.Amps)
	}
	fmt.Printf("%.0f of %.0f mA\n", e.Most, e.Gives)
	// Output:
	// plug-brain AWG 26, 0.04 A
	// plug-glow AWG 20, 0.96 A
	// 1606 of 3000 mA
}

// 16 white pixels: 16 · 48.8 mA as measured, 16 · 60 as budgeted.
func TestStripDraws(t *testing.T) {
	e, _ := run(t, lamp())
	for _, d := range e.Draws {
		if d.Component == "glow" && d.Most != 16*60 {
			t.Errorf("the strip draws %v mA at most, want 960", d.Most)
		}
	}
	rest := 20 + 15 + 4.0 // controller, player, amplifier at rest
	if got, want := e.Shows[0].Mean, rest+16*1000*electric.Pixel(255, 255, 255); math.Abs(got-want) > 1 {
		t.Errorf("white draws %v mA, want %v", got, want)
	}
}

// 37 Wh at 85 % are 6.29 Ah at 5 V; so many hours at the mix.
func TestBankLasts(t *testing.T) {
	in := lamp()
	in.Shows = in.Shows[:1]
	e, _ := run(t, in)
	if got, want := e.Road[0].Hours, 6290/e.Shows[0].Mean; math.Abs(got-want) > 1e-6 {
		t.Errorf("lasts %v h, want %v", got, want)
	}
}

// Every wire of power keeps within 3 % of 5 V, in a gauge that carries it.
func TestWiresCarry(t *testing.T) {
	e, found := run(t, lamp())
	if len(found) > 0 {
		t.Errorf("found %v", found)
	}
	for _, w := range e.Wires {
		for _, g := range stock.Gauges() {
			if g.AWG != w.Gauge {
				continue
			}
			if w.Amps > g.BundleA {
				t.Errorf("%s carries %v A in AWG %d, which takes %v", w.Wire.ID, w.Amps, w.Gauge, g.BundleA)
			}
			// The table's own resistance, not the formula's.
			if drop := 2 * float64(w.Length) / 1e6 * g.OhmKM * w.Amps * (1 + 0.00393*20); w.Wire.Carries == model.Power && drop > 0.03*5*1.02 {
				t.Errorf("%s loses %v V", w.Wire.ID, drop)
			}
		}
	}
}

// The limiter holds the build under four fifths of what the supply gives.
func TestLimiterKeepsUnderTheSupply(t *testing.T) {
	in := lamp()
	in.Components[2] = of("glow", "strip-60", pixels(100))
	e, found := run(t, in)
	if e.Most > 0.8*e.Gives+1e-6 || e.Limit >= 100*765 || e.Limit < 1000 {
		t.Errorf("%v of %v mA, limit %d, found %v", e.Most, e.Gives, e.Limit, found)
	}
}

func TestFindings(t *testing.T) {
	without := func(id string) func(*effects.Input) {
		return func(in *effects.Input) {
			var kept []model.Component
			for _, c := range in.Components {
				if c.ID != id {
					kept = append(kept, c)
				}
			}
			in.Components = kept
		}
	}
	for _, c := range []struct {
		code   finding.Code
		change func(*effects.Input)
	}{
		{"no-supply", func(in *effects.Input) { without("plug")(in); without("road")(in) }},
		{"no-controller", without("brain")},
		{"no-amplifier", without("amplifier")},
		{"no-player", without("player")},
		{"supply-small", func(in *effects.Input) { in.Components[5].Kind.Most = 500 }},
		{"no-light-left", func(in *effects.Input) { in.Components[5].Kind.Most = 500 }},
		{"two-shows", func(in *effects.Input) { in.Shows = append(in.Shows, model.Show{ID: "again", Button: "go"}) }},
		{"two-idle", func(in *effects.Input) { in.Shows = append(in.Shows, model.Show{ID: "again"}) }},
		{"no-button", func(in *effects.Input) { in.Shows[1].Button = "brain" }},
		{"button-idle", func(in *effects.Input) { in.Shows = in.Shows[:1] }},
		{"pixels-many", func(in *effects.Input) { in.Components[2] = of("glow", "strip-60", pixels(200)) }},
		{"buttons-many", func(in *effects.Input) {
			for i := range 6 {
				in.Components = append(in.Components, of(fmt.Sprint("b", i), "button-12"))
			}
		}},
		{"wire-drops", func(in *effects.Input) { in.Places.Ways[0].Length = 20 * unit.Length(1000) }},
		{"bank-sleeps", func(in *effects.Input) { in.Shows[0].Level = 0 }},
		{"bank-short", func(in *effects.Input) { without("plug")(in); in.Components[2] = of("glow", "strip-60", pixels(60)) }},
	} {
		in := lamp()
		c.change(&in)
		if _, found := run(t, in); found[c.code].Code == "" {
			t.Errorf("%s is not said; found %v", c.code, found)
		}
	}
	if e, found := run(t, effects.Input{}); len(e.Wires)+len(found) > 0 {
		t.Errorf("nothing gives %v, %v", e, found)
	}
}
