package firmware_test

import (
	"fmt"
	"slices"
	"strings"

	"scalewright/craft/firmware"
	"scalewright/model"
)

// press is a button held down, ms.
type press struct {
	Button   int
	From, To int
}

// pressLines are the harness's lines of presses without a bounce.
func pressLines(all []press) string {
	var b strings.Builder
	for _, p := range all {
		fmt.Fprintf(&b, "%d B%d 0\n%d B%d R\n", 1000*p.From, p.Button, 1000*p.To, p.Button)
	}
	return b.String()
}

const (
	framePeriod = 1.0 / firmware.FramesPerSecond
	jitter      = 0.000_1 // s that a frame may be off its time
	steadyFor   = 0.010   // s that a button must be
	pulseLeast  = 0.125   // s
	pulseMost   = 0.150
)

// check holds a run against what the program is to do: frames by the data sheet,
// the strip dark first, a frame every 20 ms and each the one that Go works out, no
// frame over the limit, buttons pulled up, one pulse a press that sounds, at its
// time. The first thing that is not so is the error.
func check(all []edge, p model.Program, presses []press, mhz float64) error {
	frames, err := readFrames(all, mhz)
	if err != nil {
		return err
	}
	pulls, err := readPulls(all)
	if err != nil {
		return err
	}
	for b := range p.Buttons {
		if !slices.ContainsFunc(all, func(e edge) bool { return e.Pin == fmt.Sprintf("B%d", b) && e.State == "U" }) {
			return fmt.Errorf("B%d is not pulled up", b)
		}
	}
	if err := pulse(p, presses, pulls); err != nil {
		return err
	}
	if p.Pixels == 0 {
		if len(frames) > 0 {
			return fmt.Errorf("%d frames and no strip", len(frames))
		}
		return nil
	}
	return compare(frames, p, presses, pulls)
}

// pulse holds the lines of sound against the presses.
func pulse(p model.Program, presses []press, pulls []pull) error {
	k := 0
	for _, asked := range presses {
		sound := soundOf(p, asked.Button)
		if sound == 0 {
			continue
		}
		if k >= len(pulls) {
			return fmt.Errorf("the press at %d ms pulls no line", asked.From)
		}
		from := float64(asked.From) / 1000
		switch got := pulls[k]; {
		case got.Line != sound-1:
			return fmt.Errorf("the press at %d ms pulls line %d, want %d", asked.From, got.Line, sound-1)
		case got.From < from+steadyFor-jitter || got.From > from+steadyFor+3*framePeriod:
			return fmt.Errorf("the press at %d ms pulls its line at %.1f ms", asked.From, 1000*got.From)
		case got.To-got.From < pulseLeast || got.To-got.From > pulseMost:
			return fmt.Errorf("line %d is low for %.1f ms, want %v to %v s", got.Line, 1000*(got.To-got.From), pulseLeast, pulseMost)
		}
		k++
	}
	if k < len(pulls) {
		return fmt.Errorf("line %d is pulled at %.1f ms, where no press asks for it", pulls[k].Line, 1000*pulls[k].From)
	}
	return nil
}

func soundOf(p model.Program, button int) int {
	sound := 0
	for _, s := range p.Shows {
		if s.Button == button {
			sound = s.Sound
		}
	}
	return sound
}

// compare holds each frame against the one that Go works out. A press that sounds
// is taken in when its line is pulled; the frame sent next was worked out before.
func compare(frames []sent, p model.Program, presses []press, pulls []pull) error {
	if len(frames) < 2 || frames[0].At > framePeriod/4 {
		return fmt.Errorf("the strip is not sent dark first")
	}
	player := firmware.NewPlayer(p)
	dark := make([][3]uint8, p.Pixels)
	want, taken := [][][3]uint8{dark, dark}, 0
	for k, f := range frames {
		if k >= 2 {
			for taken < len(pulls) && pulls[taken].From < frames[k-1].At {
				player.Press(presses[taken].Button)
				taken++
			}
			want = append(want, player.Next())
		}
		sum := 0
		for _, px := range f.Pixels {
			sum += int(px[0]) + int(px[1]) + int(px[2])
		}
		switch gap := f.At - frames[max(0, k-1)].At; {
		case len(f.Pixels) != p.Pixels:
			return fmt.Errorf("frame %d is of %d pixels, want %d", k, len(f.Pixels), p.Pixels)
		case sum > p.Limit:
			return fmt.Errorf("frame %d adds up to %d, the limit is %d", k, sum, p.Limit)
		case !slices.Equal(f.Pixels, want[k]):
			return fmt.Errorf("frame %d is %v, want %v", k, f.Pixels, want[k])
		case k >= 2 && (gap < framePeriod-jitter || gap > framePeriod+jitter):
			return fmt.Errorf("frame %d comes after %.2f ms", k, 1000*gap)
		}
	}
	return nil
}
