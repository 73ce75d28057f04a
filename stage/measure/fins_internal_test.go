package measure

import (
	"math"
	"testing"
)

// What stands out of a body for a while is a bump of it; a taper, a belly as long as half of
// it, or a short collar is none. What was not read lies between what was.
func TestBumps(t *testing.T) {
	profile := func(r func(s float64) float64) (out []station) {
		for s := 0.0; s <= 160; s += stationStep {
			out = append(out, station{s: s, r: r(s), seen: bothSides})
		}
		return out
	}
	over := func(from, to, by float64, r func(s float64) float64) func(s float64) float64 {
		return func(s float64) float64 {
			if from <= s && s <= to {
				return by
			}
			return r(s)
		}
	}
	plain := func(float64) float64 { return 10 }
	taper := func(s float64) float64 { return 12 - 0.04*s }
	for name, c := range map[string]struct {
		r    func(s float64) float64
		want int
	}{
		"a cylinder":          {plain, 0},
		"a taper":             {taper, 0},
		"fins":                {over(20, 50, 18, plain), 1},
		"fins on a taper":     {over(20, 50, 20, taper), 1},
		"two rows of fins":    {over(20, 50, 18, over(100, 120, 16, plain)), 2},
		"a collar":            {over(60, 66, 18, plain), 0},
		"a belly":             {over(40, 130, 18, plain), 0},
		"half of it unread":   {over(60, 110, 0, over(20, 50, 18, plain)), 1},
		"fins, half unread":   {over(30, 40, 0, over(20, 50, 18, plain)), 1},
		"nothing read at all": {func(float64) float64 { return 0 }, 0},
	} {
		got := bumps(profile(c.r))
		if len(got) != c.want {
			t.Errorf("%s: %d bumps, want %d", name, len(got), c.want)
		}
		for _, b := range got {
			if math.Abs(b.first-b.last) > 4 || b.first > 14 {
				t.Errorf("%s: body of radius %.1f and %.1f about the bump", name, b.first, b.last)
			}
		}
	}
	if bumps(nil) != nil {
		t.Error("bumps of no profile")
	}
}

// Fins stand out of the body that runs on between them; a cylinder between two cones stands
// out of the narrower one alone.
func TestBumpOverBody(t *testing.T) {
	for name, c := range map[string]struct {
		first, high, last float64
		want              bool
	}{"fins": {10, 18, 9, true}, "a cylinder": {10.6, 11.2, 8.6, false}} {
		b := bump{from: 20, to: 60, first: c.first, last: c.last, clear: reachOf{22, 58}}
		var prof []station
		for s := 0.0; s <= 80; s += stationStep {
			r := b.body(s)
			if 20 < s && s < 60 {
				r = c.high
			}
			prof = append(prof, station{s: s, r: r})
		}
		if got := b.over(prof); got != c.want {
			t.Errorf("%s: stands over the body: %v", name, got)
		}
	}
}
