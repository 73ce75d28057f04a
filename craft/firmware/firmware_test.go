package firmware_test

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"scalewright/craft/firmware"
	"scalewright/model"
)

// program is two buttons, three shows and four pixels, the limiter far off.
func program() model.Program {
	return model.Program{
		Pixels: 4, Buttons: []string{"launch", "beacon"}, Limit: 100_000, Idle: 0,
		Shows: []model.ProgramShow{
			{ID: "idle", Button: -1, Pattern: model.Breathe, Colour: [3]uint8{255, 138, 42}, Level: 127, Period: 20},
			{ID: "launch", Button: 0, Sound: 1, Pattern: model.Flicker, Colour: [3]uint8{255, 179, 71}, Level: 255, Lasts: 12, Period: 1},
			{ID: "beacon", Button: 1, Sound: 2, Pattern: model.Run, Colour: [3]uint8{74, 168, 255}, Level: 200, Lasts: 0, Period: 10},
		},
	}
}

// edge is a pin's change: cycle of 16 MHz, pin, and low, high, floating or pulled up.
type edge struct {
	cycle int64
	pin   string
	state string
}

// mustRun compiles a program and runs it for so many microseconds on a simulated
// ATmega328P; presses are lines of the harness. Without the compiler the test is
// skipped, but for where the environment says that it must be there.
func mustRun(t *testing.T, source, presses string, microseconds int) []edge {
	t.Helper()
	harness := buildHarness(t)
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	write("controller.c", source)
	write("Makefile", firmware.Makefile)
	make := exec.Command("make", "-s", "-C", dir, "controller.hex")
	if out, err := make.CombinedOutput(); err != nil {
		t.Fatalf("the program does not compile: %v\n%s", err, out)
	}
	run := exec.Command(harness, filepath.Join(dir, "controller.hex"), fmt.Sprint(microseconds))
	run.Stdin = strings.NewReader(presses)
	out, err := run.Output()
	if err != nil {
		t.Fatalf("run: %v", err)
	}
	var all []edge
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		var e edge
		if _, err := fmt.Sscan(lines.Text(), &e.cycle, &e.pin, &e.state); err != nil {
			t.Fatalf("%q: %v", lines.Text(), err)
		}
		all = append(all, e)
	}
	return all
}

func buildHarness(t *testing.T) string {
	t.Helper()
	for _, tool := range []string{"avr-gcc", "gcc", "make"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(t, tool+" is not here")
		}
	}
	path := filepath.Join(t.TempDir(), "harness")
	if out, err := exec.Command("gcc", "-O1", "-o", path, "testdata/harness.c", "-lsimavr").CombinedOutput(); err != nil {
		missing(t, "the harness needs libsimavr: "+string(out))
	}
	return path
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("SCALEWRIGHT_AVR") == "must" {
		t.Fatal(what)
	}
	t.Skip(what + "; install gcc-avr, avr-libc and libsimavr-dev")
}

// sent are the frames on the strip's line, decoded by the data sheet: a pulse of
// 220 to 380 ns is a nought, one of 580 to 1000 ns a one, and more than 280 µs low
// ends a frame.
func sent(t *testing.T, all []edge, pixels int) (frames [][][3]uint8, at []int64) {
	t.Helper()
	var bits []byte
	var rise, fall int64
	flush := func() {
		if len(bits) == 0 {
			return
		}
		if len(bits) != 24*pixels {
			t.Errorf("a frame of %d bits, want %d", len(bits), 24*pixels)
		}
		frame := make([][3]uint8, len(bits)/24)
		for i := range frame {
			for c, channel := range [3]int{1, 0, 2} { // green, red, blue
				for b := range 8 {
					frame[i][channel] = frame[i][channel]<<1 | bits[24*i+8*c+b]
				}
			}
		}
		frames, bits = append(frames, frame), nil
	}
	const ns = 62.5 // a cycle
	for _, e := range all {
		if e.pin != "D6" {
			continue
		}
		switch e.state {
		case "1":
			if low := float64(e.cycle-fall) * ns; fall > 0 && low > 280_000 {
				flush()
			} else if fall > 0 && low < 580 {
				t.Fatalf("low for %v ns, less than 580", low)
			}
			if len(bits) == 0 {
				at = append(at, e.cycle)
			}
			rise = e.cycle
		case "0":
			if rise == 0 {
				continue
			}
			fall = e.cycle
			switch high := float64(e.cycle-rise) * ns; {
			case high >= 220 && high <= 380:
				bits = append(bits, 0)
			case high >= 580 && high <= 1000:
				bits = append(bits, 1)
			default:
				t.Fatalf("high for %v ns: neither 220 to 380 nor 580 to 1000", high)
			}
		}
	}
	flush()
	return frames, at
}

// The controller sends what the model in Go works out, bit for bit, 50 times a
// second.
func TestFramesAreTheModels(t *testing.T) {
	p := program()
	all := mustRun(t, firmware.Source("test", p), "", 500_000)
	frames, at := sent(t, all, p.Pixels)
	if len(frames) < 24 {
		t.Fatalf("%d frames in half a second", len(frames))
	}
	model := firmware.NewPlayer(p)
	// Dark first, and once more before the first frame worked out.
	want := [][][3]uint8{make([][3]uint8, 4), make([][3]uint8, 4)}
	for len(want) < len(frames) {
		want = append(want, model.Next())
	}
	for i := range frames {
		if !slices.Equal(frames[i], want[i]) {
			t.Fatalf("frame %d is %v, want %v", i, frames[i], want[i])
		}
	}
	for i := 2; i < len(at); i++ {
		if ms := float64(at[i]-at[i-1]) / 16000; ms < 19.9 || ms > 20.1 {
			t.Errorf("frame %d comes after %v ms", i, ms)
		}
	}
}

// A press starts its show and pulls its sound's line low, never high; spikes
// shorter than 10 ms do nothing.
func TestButtons(t *testing.T) {
	p := program()
	presses := "50000 B0 0\n52000 B0 R\n60000 B0 0\n64000 B0 R\n" + // two spikes
		"100000 B0 0\n101000 B0 R\n102000 B0 0\n200000 B0 R\n" + // a press that bounces
		"500000 B1 0\n560000 B1 R\n"
	all := mustRun(t, firmware.Source("test", p), presses, 800_000)
	low := map[string][]float64{}
	for _, e := range all {
		if e.pin[0] != 'C' {
			continue
		}
		if e.state == "1" || e.state == "U" {
			t.Errorf("%s is %s: a line into 3.3 V logic was driven or pulled up", e.pin, e.state)
		}
		low[e.pin] = append(low[e.pin], float64(e.cycle)/16000)
	}
	for pin, want := range map[string]float64{"C0": 112, "C1": 510} {
		times := low[pin]
		if len(times) != 2 || times[0] < want-2 || times[0] > want+25 || times[1]-times[0] < 125 || times[1]-times[0] > 160 {
			t.Errorf("%s goes low and back at %v ms, want once at %v for 125 to 160", pin, times, want)
		}
	}
	frames, _ := sent(t, all, p.Pixels)
	green := func(f [][3]uint8) bool {
		return f[0][2] > f[0][0] || f[1][2] > f[1][0] || f[2][2] > f[2][0] || f[3][2] > f[3][0]
	}
	if green(frames[10]) || !green(frames[len(frames)-2]) {
		t.Error("the beacon's blue does not show at the end, or shows before its button")
	}
}

// However bright a show is asked for, no frame adds up to more than the limit.
func TestLimiter(t *testing.T) {
	p := program()
	p.Limit = 600
	p.Shows[0] = model.ProgramShow{ID: "white", Button: -1, Pattern: model.Steady, Colour: [3]uint8{255, 255, 255}, Level: 255, Period: 1}
	frames, _ := sent(t, mustRun(t, firmware.Source("test", p), "", 120_000), p.Pixels)
	most := 0
	for _, f := range frames {
		sum := 0
		for _, px := range f {
			sum += int(px[0]) + int(px[1]) + int(px[2])
		}
		most = max(most, sum)
	}
	if most > p.Limit || most < p.Limit*9/10 {
		t.Errorf("the brightest frame adds up to %d, the limit is %d", most, p.Limit)
	}
}

// Faults put into the program are caught by what these tests look at.
func TestFaultsShow(t *testing.T) {
	p := program()
	source := firmware.Source("test", p)
	presses := "50000 B0 0\n52000 B0 R\n100000 B0 0\n200000 B0 R\n"
	for name, swap := range map[string][2]string{
		"no debounce":          {"if (++steady[b] < STEADY)", "if (++steady[b] < 1)"},
		"a short trigger":      {"#define PULSE 7", "#define PULSE 2"},
		"push-pull":            {"DDRC = _BV(shows[which].sound - 1);", "DDRC = PORTC = _BV(shows[which].sound - 1);"},
		"a missing pull-up":    {"PORTB = BUTTON_MASK;", "PORTB = 0;"},
		"a nought too long":    {"nop\\n\\tnop\\n\\tnop\\n\\t\"\n\t\t\t\"sbrs", "nop\\n\\tnop\\n\\tnop\\n\\tnop\\n\\tnop\\n\\tnop\\n\\tnop\\n\\t\"\n\t\t\t\"sbrs"},
		"a pixel too few":      {"#define PIXELS 4", "#define PIXELS 3"},
		"frames too far apart": {"#define FRAME 5000U", "#define FRAME 6000U"},
	} {
		faulty := strings.Replace(source, swap[0], swap[1], 1)
		if faulty == source {
			t.Fatalf("%s: nothing to swap", name)
		}
		if !faultShows(mustRun(t, faulty, presses, 300_000), p) {
			t.Errorf("%s goes unseen", name)
		}
	}
	if faultShows(mustRun(t, source, presses, 300_000), p) {
		t.Error("a fault is seen where there is none")
	}
}

// faultShows looks at the same as the tests above, without stopping.
func faultShows(all []edge, p model.Program) bool {
	bits, rise, fall, began := 0, int64(0), int64(0), int64(0)
	var low []float64
	pulled := false
	for _, e := range all {
		ns := func(from int64) float64 { return float64(e.cycle-from) * 62.5 }
		switch {
		case e.pin == "B0":
			pulled = pulled || e.state == "U"
		case e.pin[0] == 'C' && e.state == "1":
			return true
		case e.pin == "C0":
			low = append(low, float64(e.cycle)/16000)
		case e.pin == "D6" && e.state == "1":
			if fall > 0 && ns(fall) > 280_000 {
				if bits != 24*p.Pixels {
					return true
				}
				if gap := ns(began) / 1e6; began > 0 && gap > 20.5 {
					return true
				}
				bits, began = 0, e.cycle
			}
			rise = e.cycle
		case e.pin == "D6" && e.state == "0" && rise > 0:
			high := ns(rise)
			if !(high >= 220 && high <= 380 || high >= 580 && high <= 1000) {
				return true
			}
			fall, bits = e.cycle, bits+1
		}
	}
	return !pulled || len(low) != 2 || low[0] < 105 || low[1]-low[0] < 125
}

// With as many pixels as are allowed, of the pattern that takes longest, a frame
// still comes every 20 ms.
func TestMostPixelsInTime(t *testing.T) {
	for _, pattern := range []model.Pattern{model.Run, model.Breathe, model.Flicker} {
		p := model.Program{Pixels: firmware.MostPixels, Limit: 5000, Idle: 0, Shows: []model.ProgramShow{
			{ID: "all", Button: -1, Pattern: pattern, Colour: [3]uint8{255, 255, 255}, Level: 255, Period: 50},
		}}
		frames, at := sent(t, mustRun(t, firmware.Source("test", p), "", 200_000), p.Pixels)
		if len(frames) < 9 {
			t.Errorf("%s: %d frames in 200 ms", pattern, len(frames))
		}
		for i := 2; i < len(at); i++ {
			if ms := float64(at[i]-at[i-1]) / 16000; ms > 20.2 {
				t.Errorf("%s: frame %d comes after %v ms", pattern, i, ms)
			}
		}
	}
}
