package firmware_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/firmware"
	"scalewright/model"
)

// program is two buttons, three shows and four pixels; the limiter bites in all.
func program() model.Program {
	return model.Program{
		Pixels: 4, Buttons: []string{"launch", "beacon"}, Limit: 400, Idle: 0,
		Shows: []model.ProgramShow{
			{ID: "idle", Button: -1, Pattern: model.Breathe, Colour: [3]uint8{255, 138, 42}, Level: 127, Period: 20},
			{ID: "launch", Button: 0, Sound: 1, Pattern: model.Flicker, Colour: [3]uint8{255, 179, 71}, Level: 255, Lasts: 7, Period: 9},
			{ID: "beacon", Button: 1, Sound: 4, Pattern: model.Run, Colour: [3]uint8{74, 168, 255}, Level: 200, Period: 10},
		},
	}
}

// spikes are closures shorter than a button's own bounce, which Ganssle measured
// to last 6.2 ms at most; then a press that bounces as long.
const spikes = "20000 B0 0\n22000 B0 R\n30000 B0 0\n34000 B0 R\n41000 B1 0\n47200 B1 R\n" +
	"93800 B0 0\n95000 B0 R\n96500 B0 0\n97000 B0 R\n98900 B0 0\n99100 B0 R\n"

var presses = []press{{Button: 0, From: 100, To: 330}, {Button: 1, From: 413, To: 460}}

func run(t *testing.T, source string, microseconds int) []edge {
	t.Helper()
	return simulate(t, compile(t, source), spikes+pressLines(presses), microseconds)
}

// The controller sends what Go works out, bit for bit, through two presses, spikes
// and bounces, by the data sheet's limits.
func TestRunsAsDescribed(t *testing.T) {
	p := program()
	if err := check(run(t, firmware.Source("test", p), 650_000), p, presses, clockMHz); err != nil {
		t.Error(err)
	}
}

// Faults put into the program are seen by the same check.
func TestFaultsShow(t *testing.T) {
	p := program()
	source := firmware.Source("test", p)
	for name, swap := range map[string][2]string{
		"no limiter":            {"if (sum > LIMIT)", "if (sum > 100000UL)"},
		"no debounce":           {"#define SAMPLES 4U", "#define SAMPLES 1U"},
		"a short trigger":       {"#define PULSE 31250U", "#define PULSE 20000U"},
		"push-pull":             {"DDRC = _BV(shows[which].sound - 1);", "DDRC = PORTC = _BV(shows[which].sound - 1);"},
		"a missing pull-up":     {"PORTB = BUTTON_MASK;", "PORTB = 1;"},
		"a nought too long":     {`"nop\n\tnop\n\tnop\n\t"` + "\n\t\t\"sbrs", `"nop\n\tnop\n\tnop\n\tnop\n\tnop\n\tnop\n\t"` + "\n\t\t\"sbrs"},
		"a pause between bytes": {`"sbiw %[n], 1`, `"nop\n\tsbiw %[n], 1`},
		"a pixel too few":       {"#define PIXELS 4", "#define PIXELS 3"},
		"frames too far apart":  {"#define FRAME 5000U", "#define FRAME 5100U"},
		"bright first":          {"static uint8_t pixels[PIXELS * 3];", "static uint8_t pixels[PIXELS * 3] = { 1 };"},
		"late first":            {"send(); /* dark first */", ""},
		"red for green":         {"(c == 0 ? 1 : c == 1 ? 0 : 2)", "c"},
		"a show too long":       {"--left == 0", "left-- == 0"},
		"the wrong line":        {"_BV(shows[which].sound - 1);", "_BV(shows[which].sound);"},
	} {
		faulty := strings.Replace(source, swap[0], swap[1], 1)
		if name == "no debounce" {
			faulty = strings.Replace(faulty, "#define STEADY 2500U", "#define STEADY 1U", 1)
		}
		if faulty == source {
			t.Fatalf("%s: nothing to swap", name)
		}
		if err := check(run(t, faulty, 650_000), p, presses, clockMHz); err == nil {
			t.Errorf("%s goes unseen", name)
		} else {
			t.Logf("%s: %v", name, err)
		}
	}
	// A chip left at its own 8 MHz: the same cycles, twice as long.
	if err := check(run(t, source, 650_000), p, presses, clockMHz/2); err == nil {
		t.Error("half the clock goes unseen")
	}
}

// Each pattern as it is sent is as Go works it out, at swings from one frame to a
// minute.
func TestPatterns(t *testing.T) {
	for _, pattern := range []model.Pattern{model.Steady, model.Breathe, model.Flicker, model.Run} {
		for _, period := range []int{1, 7, 3000} {
			p := model.Program{Pixels: 7, Limit: 3000, Idle: 0, Shows: []model.ProgramShow{
				{ID: "all", Button: -1, Pattern: pattern, Colour: [3]uint8{255, 200, 1}, Level: 240, Period: period},
			}}
			dir := compile(t, firmware.Source("test", p))
			if err := check(simulate(t, dir, "", 300_000), p, nil, clockMHz); err != nil {
				t.Errorf("%s of %d frames: %v", pattern, period, err)
			}
		}
	}
}

// A build of sound alone has its program too.
func TestSoundWithoutStrip(t *testing.T) {
	p := program()
	p.Pixels = 0
	if err := check(run(t, firmware.Source("test", p), 650_000), p, presses, clockMHz); err != nil {
		t.Error(err)
	}
	p = program()
	p.Buttons, p.Shows = nil, p.Shows[:1]
	dir := compile(t, firmware.Source("test", p))
	if err := check(simulate(t, dir, "", 100_000), p, nil, clockMHz); err != nil {
		t.Errorf("without a button: %v", err)
	}
}

// With as many pixels as are allowed every pattern keeps its 20 ms, and a tap of
// 40 ms counts at whatever moment it falls; flash and memory have room for a
// bootloader of 2 KiB and 256 bytes of stack (ATmega328P: 32 KiB and 2 KiB).
func TestMostPixels(t *testing.T) {
	for _, pattern := range []model.Pattern{model.Steady, model.Breathe, model.Flicker, model.Run} {
		show := model.ProgramShow{ID: "all", Button: -1, Pattern: pattern, Colour: [3]uint8{255, 255, 255}, Level: 255, Period: 50}
		tapped := show
		tapped.ID, tapped.Button, tapped.Sound = "tap", 0, 1
		p := model.Program{Pixels: firmware.MostPixels, Limit: 50_000, Idle: 0, Buttons: []string{"a", "b", "c", "d", "e"}, Shows: []model.ProgramShow{show, tapped}}
		var taps []press
		for k := range 5 {
			taps = append(taps, press{From: 40 + 204*k, To: 80 + 204*k})
		}
		dir := compile(t, firmware.Source("test", p))
		if err := check(simulate(t, dir, pressLines(taps), 1_060_000), p, taps, clockMHz); err != nil {
			t.Errorf("%s: %v", pattern, err)
		}
		if flash, memory := size(t, dir); flash > 30<<10 || memory > 2048-256 {
			t.Errorf("%s takes %d bytes of flash and %d of memory", pattern, flash, memory)
		}
	}
}

// Of whatever program Go works out frames: as many pixels as there are, no channel
// over its colour, no frame over the limit, and a show that ends ends in time.
func TestPlayerKeepsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		patterns := []model.Pattern{model.Steady, model.Breathe, model.Flicker, model.Run, ""}
		show := func(button int) model.ProgramShow {
			return model.ProgramShow{
				Button: button, Pattern: rapid.SampledFrom(patterns).Draw(t, "pattern"), Level: rapid.Uint8().Draw(t, "level"),
				Colour: [3]uint8{rapid.Uint8().Draw(t, "r"), rapid.Uint8().Draw(t, "g"), rapid.Uint8().Draw(t, "b")},
				Lasts:  rapid.IntRange(0, 40).Draw(t, "lasts"), Period: rapid.IntRange(0, 3000).Draw(t, "period"),
			}
		}
		p := model.Program{
			Pixels: rapid.IntRange(1, firmware.MostPixels).Draw(t, "pixels"), Idle: rapid.IntRange(-1, 0).Draw(t, "idle"),
			Limit: rapid.IntRange(0, 120_000).Draw(t, "limit"), Shows: []model.ProgramShow{show(-1), show(0)},
		}
		player := firmware.NewPlayer(p)
		player.Press(0)
		for k := range 60 {
			s := p.Shows[1]
			if s.Lasts > 0 && k >= s.Lasts {
				s = p.Shows[0]
				if p.Idle < 0 {
					s.Colour = [3]uint8{}
				}
			}
			frame, sum := player.Next(), 0
			if len(frame) != p.Pixels {
				t.Fatalf("%d pixels, want %d", len(frame), p.Pixels)
			}
			for _, px := range frame {
				for c := range px {
					sum += int(px[c])
					if px[c] > s.Colour[c] {
						t.Fatalf("frame %d has %v, the colour is %v", k, px, s.Colour)
					}
				}
			}
			if sum > p.Limit {
				t.Fatalf("frame %d adds up to %d, the limit is %d", k, sum, p.Limit)
			}
		}
	})
}

// A show that never ends has no jump where its counter starts again, which is after
// 21 minutes.
func TestNoJumpAfterLong(t *testing.T) {
	p := model.Program{Pixels: 1, Limit: 765, Idle: 0, Shows: []model.ProgramShow{
		{Button: -1, Pattern: model.Breathe, Colour: [3]uint8{255, 255, 255}, Level: 255, Period: 200},
	}}
	player := firmware.NewPlayer(p)
	before := player.Next()[0][0]
	for k := range 140_000 {
		now := player.Next()[0][0]
		// A swing of 255 up and down in 200 frames moves by no more than 512/200·2.
		if math.Abs(float64(now)-float64(before)) > 6 {
			t.Fatalf("frame %d goes from %d to %d", k, before, now)
		}
		before = now
	}
}

// Flames look like none of their neighbours: the mean is in the middle and pixels
// beside each other do not move together.
func TestFlickerIsUneven(t *testing.T) {
	p := model.Program{Pixels: 16, Limit: 100_000, Idle: 0, Shows: []model.ProgramShow{
		{Button: -1, Pattern: model.Flicker, Colour: [3]uint8{255, 255, 255}, Level: 255, Period: 12},
	}}
	player := firmware.NewPlayer(p)
	const frames = 3000
	var values [16][]float64
	for range frames {
		for i, px := range player.Next() {
			values[i] = append(values[i], float64(px[0]))
		}
	}
	for i := range values {
		if m, _ := meanAndSpread(values[i]); m < 165 || m > 185 {
			t.Errorf("pixel %d is %v in the mean", i, m)
		}
		if r := correlation(values[i], values[(i+1)%16]); math.Abs(r) > 0.15 {
			t.Errorf("pixels %d and %d correlate by %v", i, i+1, r)
		}
	}
}

func meanAndSpread(v []float64) (mean, spread float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		spread += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, math.Sqrt(spread)
}

func correlation(a, b []float64) float64 {
	ma, sa := meanAndSpread(a)
	mb, sb := meanAndSpread(b)
	r := 0.0
	for i := range a {
		r += (a[i] - ma) * (b[i] - mb) / sa / sb / float64(len(a))
	}
	return r
}

// A name cannot end the comment it stands in, nor go over its line.
func TestNamesStayInTheirComments(t *testing.T) {
	p := program()
	p.Shows[0].ID = "*/ int evil; /*\n??/"
	dir := compile(t, firmware.Source("a */ b\\\n#error /* c", p))
	if err := check(simulate(t, dir, "", 100_000), p, nil, clockMHz); err != nil {
		t.Error(err)
	}
}

func ExamplePlayer() {
	p := program()
	p.Limit = 10_000
	player := firmware.NewPlayer(p)
	player.Press(1)
	fmt.Println(player.Next())
	// Output: [[58 131 200] [7 16 24] [14 32 49] [29 65 99]]
}
