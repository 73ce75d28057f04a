package effects_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

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
	// plug-brain AWG 22, 0.04 A
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

// Every wire of power keeps within 3 % of 5 V by the table's own resistance, in a
// gauge that carries it in a bundle and bears what the fuse lets through.
func TestWiresCarry(t *testing.T) {
	in := lamp()
	in.Site.Warmest = 45
	e, found := run(t, in)
	if len(found) > 0 {
		t.Errorf("found %v", found)
	}
	if e.Celsius != 60 {
		t.Errorf("copper at %v °C in a body in air of 45, want 60", e.Celsius)
	}
	for _, w := range e.Wires {
		for _, g := range stock.Gauges() {
			if g.AWG != w.Gauge {
				continue
			}
			if w.Amps > g.BundleA {
				t.Errorf("%s carries %v A in AWG %d, which takes %v", w.Wire.ID, w.Amps, w.Gauge, g.BundleA)
			}
			drop := 2 * float64(w.Length) / 1e6 * g.OhmKM * w.Amps * (1 + 0.00393*40)
			if w.Wire.Carries == model.Power && (drop > 0.03*5*1.02 || g.ChassisA < 1.5*e.Fuse) {
				t.Errorf("%s loses %v V in AWG %d behind a fuse of %v A", w.Wire.ID, drop, w.Gauge, e.Fuse)
			}
		}
		if w.Guessed == (w.Wire.ID == "plug-glow" || w.Wire.ID == "plug-amplifier") {
			t.Errorf("%s: guessed %v", w.Wire.ID, w.Guessed)
		}
	}
	// 4.75 V at least from a port for charging, 4.5 V at a pixel.
	if e.Least < 4.5 || e.Least > 4.75 {
		t.Errorf("%v V at least", e.Least)
	}
}

// 1606 mA and a quarter are 2.0 A; the next rating of IEC 60127 is 2.5 A. On a
// supply of 2 A such a fuse would never open, so there is none.
func TestFuse(t *testing.T) {
	in := lamp()
	e, _ := run(t, in)
	if e.Fuse != 2.5 || e.Most*1.25 <= 2000 {
		t.Errorf("a fuse of %v A for %v mA", e.Fuse, e.Most)
	}
	in.Components[5].Kind.Most = 2200
	if e, _ = run(t, in); e.Fuse != 0 {
		t.Errorf("a fuse of %v A on a supply of 2.2 A", e.Fuse)
	}
}

// 2.5 W in 4 Ω are 0.79 A, more than the amplifier itself draws (PAM8302A data
// sheet: 2.5 W into 4 Ω, efficiency to 88 %); AWG 22 carries 0.92 A in a bundle.
func TestSpeakerLead(t *testing.T) {
	e, _ := run(t, lamp())
	for _, w := range e.Wires {
		if w.Wire.ID == "amplifier-voice" && (math.Abs(w.Amps-math.Sqrt(2.5/4)) > 0.01 || w.Gauge > 22) {
			t.Errorf("the speaker's lead carries %v A in AWG %d", w.Amps, w.Gauge)
		}
	}
}

// ATmega328P data sheet 8271, 28.1 and 28.2: specified at 20 mA a pin, 40 mA at
// most, 100 mA sunk by port C. A line shorted to a rail of 5.25 V keeps within it.
func TestResistorsSparePins(t *testing.T) {
	const rail = 5.25
	if i := 1000 * rail / effects.DataOhm; i > 20 {
		t.Errorf("a shorted data line takes %v mA", i)
	}
	if i := 1000 * rail / effects.TriggerOhm; i > 20 || 4*i > 100 {
		t.Errorf("a shorted trigger takes %v mA", i)
	}
}

// A bank that would switch off is kept on by 150 mA for a tenth of the time, and
// its hours count that.
func TestKeepingABankOnCounts(t *testing.T) {
	in := lamp()
	in.Shows = in.Shows[:1]
	in.Shows[0].Level = 0
	e, _ := run(t, in)
	r := e.Road[0]
	if want := 6290 / (e.Shows[0].Mean + 15); !r.SwitchOff || r.KeepOnMA != 15 || math.Abs(r.Hours-want) > 1e-6 {
		t.Errorf("%+v, want %v h", r, want)
	}
}

// A show without a swing of its own gets one; an hour and more is told in frames.
func TestUnits(t *testing.T) {
	in := lamp()
	in.Shows[0].Pattern, in.Shows[0].Lasts = model.Breathe, 3600
	in.Shows[1].Lasts = 0.001
	e, _ := run(t, in)
	if p := e.Program.Shows; p[0].Period != 200 || p[0].Lasts != 180_000 || p[1].Period != 12 || p[1].Lasts != 1 {
		t.Errorf("%+v", p)
	}
}

// Whatever is declared: figures are figures, the limiter keeps the whole under
// what is planned with unless that is said, and twice gives the same.
func TestLaws(t *testing.T) {
	kinds := stock.Components()
	rapid.Check(t, func(t *rapid.T) {
		var in effects.Input
		for i := range rapid.IntRange(0, 9).Draw(t, "components") {
			k := rapid.SampledFrom(kinds).Draw(t, "kind")
			in.Components = append(in.Components, model.Component{
				ID: fmt.Sprint("c", i), Kind: k, Pixels: rapid.IntRange(0, 160).Draw(t, "pixels"),
				Placed: rapid.Bool().Draw(t, "placed"), Station: unit.Length(rapid.Float64Range(0, 5000).Draw(t, "station")),
			})
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "shows") {
			in.Shows = append(in.Shows, model.Show{
				ID: fmt.Sprint("s", i), Button: rapid.SampledFrom([]string{"", "c0", "c1", "c2"}).Draw(t, "button"),
				Sound: rapid.IntRange(0, 5).Draw(t, "sound"), Level: rapid.Float64Range(0, 1).Draw(t, "level"), Colour: [3]uint8{255, 255, 255},
				Pattern: rapid.SampledFrom([]model.Pattern{model.Steady, model.Breathe, model.Flicker, model.Run}).Draw(t, "pattern"),
				Lasts:   rapid.Float64Range(0, 3600).Draw(t, "lasts"), Period: rapid.Float64Range(0, 2).Draw(t, "period"),
			})
		}
		e, list, err := effects.Run(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		figures := []float64{e.Gives, e.Most, e.Fuse, e.Least, e.Celsius}
		for _, w := range e.Wires {
			figures = append(figures, w.Amps, w.Drop, float64(w.Length))
		}
		for _, s := range e.Shows {
			figures = append(figures, s.Mean, s.Most, s.Held)
		}
		for _, r := range e.Road {
			figures = append(figures, r.Hours, r.IdleMA, r.KeepOnMA)
		}
		for _, f := range figures {
			if math.IsNaN(f) || math.IsInf(f, 0) || f < 0 {
				t.Fatalf("%v among %+v", f, e)
			}
		}
		if e.Most > 0.8*e.Gives+1e-6 && e.Gives > 0 && !list.Blocked() {
			t.Fatalf("%v of %v mA and nothing is said", e.Most, e.Gives)
		}
		again, _, _ := effects.Run(context.Background(), in)
		if diff := cmp.Diff(e, again); diff != "" {
			t.Fatal(diff)
		}
	})
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
		{"supply-small", func(in *effects.Input) { without("glow")(in); in.Components[4].Kind.Most = 500 }},
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
		{"wire-drops", func(in *effects.Input) { in.Places.Ways[0].Length = 7 * unit.Length(1000) }},
		{"wire-starves", func(in *effects.Input) { in.Places.Ways[0].Length = 20 * unit.Length(1000) }},
		{"no-controller", func(in *effects.Input) { in.Components = nil }},
		{"speakers-many", func(in *effects.Input) { in.Components = append(in.Components, of("voice-b", "speaker-57")) }},
		{"sound-far", func(in *effects.Input) { in.Shows[1].Sound = 5 }},
		{"idle-sounds", func(in *effects.Input) { in.Shows[0].Sound = 1 }},
		{"no-idle", func(in *effects.Input) { in.Shows = in.Shows[1:] }},
		{"light-held", func(in *effects.Input) { in.Components[2] = of("glow", "strip-60", pixels(60)) }},
		{"light-flashes", func(in *effects.Input) { in.Shows[1].Pattern, in.Shows[1].Period = model.Breathe, 0.3 }},
		{"bank-sleeps", func(in *effects.Input) { in.Shows[0].Level = 0 }},
		{"bank-short", func(in *effects.Input) { without("plug")(in); in.Components[2] = of("glow", "strip-60", pixels(60)) }},
	} {
		in := lamp()
		c.change(&in)
		if _, found := run(t, in); found[c.code].Code == "" {
			t.Errorf("%s is not said; found %v", c.code, found)
		}
	}
	// One mistake, one finding.
	for _, alone := range []func(*effects.Input){
		func(in *effects.Input) { in.Components[5].Kind.Most = 500 },
		func(in *effects.Input) { in.Places.Ways[0].Length = 20 * unit.Length(1000) },
		func(in *effects.Input) { in.Shows[1].Pattern, in.Shows[1].Period = model.Breathe, 0.3 },
	} {
		in := lamp()
		alone(&in)
		if _, found := run(t, in); len(found) != 1 {
			t.Errorf("want one finding: %v", found)
		}
	}
	if e, found := run(t, effects.Input{}); len(e.Wires)+len(found) > 0 {
		t.Errorf("nothing gives %v, %v", e, found)
	}
}
