package lane

import (
	"fmt"
	"slices"

	"scalewright/craft/firmware"
	"scalewright/job"
	"scalewright/model"
)

// Sequence is what a show makes of the lamps, as the controller sends it: a column
// of colours a step.
type Sequence struct {
	Show    model.ProgramShow
	Seconds float64 // shown; of an endless show a while
	Endless bool
	Step    float64      // s between two columns
	Columns [][][3]uint8 // the first lamp first
	Ticks   []string     // the same for readers who cannot see it
	Turns   []Turn       // where it is brightest and darkest by turns
}

// Turn is where a show stops growing brighter, or darker.
type Turn struct {
	At   float64 // s
	Took float64 // s since the one before
	Up   bool    // it grew brighter
}

// An endless show is shown for so many swings, and no strip for longer than so many
// seconds or with more columns.
const (
	swingsShown = 3
	mostSeconds = 60
	mostColumns = 400
)

// Sequences plays the program's shows, the idle one first. The player is that of the
// controller's program, frame by frame.
func Sequences(r job.Result) []Sequence {
	p := r.Effects.Program
	var out []Sequence
	for i, s := range p.Shows {
		q := Sequence{Show: s, Endless: s.Lasts == 0}
		frames := s.Lasts
		if q.Endless {
			frames = swingsShown * max(1, s.Period)
		}
		frames = min(frames, mostSeconds*firmware.FramesPerSecond)
		every := max(1, (frames+mostColumns-1)/mostColumns)
		alone := p
		alone.Idle = i // the player begins with it
		player := firmware.NewPlayer(alone)
		for n := range frames {
			frame := player.Next()
			if n%every == 0 {
				q.Columns = append(q.Columns, slices.Clone(frame))
			}
		}
		q.Step = float64(every) / firmware.FramesPerSecond
		q.Seconds = float64(frames) / firmware.FramesPerSecond
		q.Ticks, q.Turns = crossTicks(q)
		out = append(out, q)
	}
	slices.SortStableFunc(out, func(a, b Sequence) int { return a.Show.Button - b.Show.Button })
	return out
}

// crossTicks name what happens: where the whole strip is brightest and darkest by turns,
// and how long it takes to get there.
func crossTicks(q Sequence) (out []string, turns []Turn) {
	sum := func(column [][3]uint8) (n int) {
		for _, c := range column {
			n += int(c[0]) + int(c[1]) + int(c[2])
		}
		return n
	}
	last, lastAt, rising := 0, 0.0, true
	for k, column := range q.Columns {
		now := sum(column)
		if k == 0 {
			last = now
			out = append(out, "at 0 seconds, "+shade(column))
			continue
		}
		if before := sum(q.Columns[k-1]); now != before {
			turned := (now > before) != rising
			at := float64(k-1) * q.Step
			if turned && len(out) < mostTicks && differs(before, last) {
				out = append(out, fmt.Sprintf("at %.1f seconds, to %s in %.1f", at, shade(q.Columns[k-1]), at-lastAt))
				turns = append(turns, Turn{at, at - lastAt, rising})
				last, lastAt = before, at
			}
			rising = now > before
		}
	}
	if len(out) >= mostTicks {
		turns = nil
	}
	if n := len(q.Columns); n > 1 && !q.Endless {
		out = append(out, fmt.Sprintf("at %.1f seconds, the end", q.Seconds))
	}
	return out, turns
}

// mostTicks are named; a flicker has hundreds that say nothing.
const mostTicks = 12

// differs reports whether two brightnesses are told apart: by a tenth.
func differs(a, b int) bool { return 10*max(a-b, b-a) > max(a, b) }

// shade is the brightest lamp's colour as it is written.
func shade(column [][3]uint8) string {
	var best [3]uint8
	most := -1
	for _, c := range column {
		if n := int(c[0]) + int(c[1]) + int(c[2]); n > most {
			best, most = c, n
		}
	}
	if most <= 0 {
		return "dark"
	}
	return fmt.Sprintf("#%02x%02x%02x", best[0], best[1], best[2])
}
