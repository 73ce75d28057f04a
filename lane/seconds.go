package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
)

// Rows of a show against seconds, mm of paper.
const (
	secondsHead  = 30.0 // kept for the show's name
	secondsAxis  = 7.0
	secondsStrip = 12.0
	secondsFoot  = 6.0 // of the names of the cross-ticks
	leastSecond  = 9.0 // between lettered seconds
	mostStrips   = 160 // columns of colours drawn: the paper shows no more
	crossTick    = 1.3 // that a cross-tick stands out of the strip
)

// Seconds draws a show as its lamps play it: seconds to the right, the first lamp at
// the foot, each stretch in the colour that is sent. Cross-ticks stand where the
// strip is brightest or darkest, and say how long it took to get there.
func Seconds(r job.Result, q Sequence, width float64) *drawing.Scene {
	s := drawing.New(width, secondsAxis+secondsStrip+secondsFoot)
	s.Title = "Show " + q.Show.ID
	for _, line := range q.Ticks {
		s.Desc += line + ". "
	}
	right := width - 1
	if !finite(q.Seconds, width) || q.Seconds <= 0 || len(q.Columns) == 0 || right <= secondsHead {
		s.Text(drawing.Text{At: drawing.Pt(0, 5), String: q.Show.ID + ": nothing plays", Size: drawing.SizeSmall})
		return s
	}
	perSecond := (right - secondsHead) / q.Seconds
	x := func(second float64) float64 { return secondsHead + second*perSecond }
	q.name(s, r)
	q.scale(s, x, perSecond)
	q.strip(s, x)
	room := drawing.NewRoom(drawing.Rect{X: secondsHead - 2, Y: 0, W: width - secondsHead + 2, H: s.Height})
	for _, t := range q.Turns {
		at := x(t.At)
		s.Line(drawing.Pt(at, secondsAxis-crossTick), drawing.Pt(at, secondsAxis+secondsStrip+crossTick), drawing.Object)
	}
	for _, t := range q.Turns {
		words := fmt.Sprintf("down in %.1f", t.Took)
		if t.Up {
			words = fmt.Sprintf("up in %.1f", t.Took)
		}
		room.Write(s, drawing.Text{At: drawing.Pt(x(t.At)+0.8, secondsAxis+secondsStrip+3.6), V: drawing.Centre, String: words, Size: drawing.SizeCaption}, 1)
	}
	if q.Endless {
		room.Write(s, drawing.Text{
			At: drawing.Pt(right, secondsAxis+secondsStrip+3.6), V: drawing.Centre, H: drawing.End, String: "and so on", Size: drawing.SizeCaption, Colour: drawing.Ink3,
		}, 1)
	}
	return s
}

// name says which show it is, what begins it and what it sounds.
func (q Sequence) name(s *drawing.Scene, r job.Result) {
	at := secondsAxis + 2.0
	line := func(words string, face drawing.Face, c drawing.Colour) {
		s.Text(drawing.Text{At: drawing.Pt(0, at), V: drawing.Centre, String: drawing.Shorten(words, face, drawing.SizeSmall, secondsHead-3), Face: face, Size: drawing.SizeSmall, Colour: c})
		at += 3.9
	}
	line(q.Show.ID, drawing.Bold, drawing.Ink)
	begins := "when nothing else"
	if b := q.Show.Button; b >= 0 && b < len(r.Effects.Program.Buttons) {
		begins = "at " + r.Effects.Program.Buttons[b]
	}
	line(begins, drawing.Regular, drawing.Ink)
	if q.Show.Sound > 0 {
		line(fmt.Sprintf("with sound %d", q.Show.Sound), drawing.Regular, drawing.Ink)
	}
}

// Steps of the seconds that are lettered.
var stepsSecond = [...]float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60}

// scale is the axis of seconds.
func (q Sequence) scale(s *drawing.Scene, x func(float64) float64, perSecond float64) {
	const line = secondsAxis - 1.6
	s.Line(drawing.Pt(x(0), line), drawing.Pt(x(q.Seconds), line), drawing.Thin)
	step := stepsSecond[len(stepsSecond)-1]
	for _, one := range stepsSecond {
		if one*perSecond >= leastSecond {
			step = one
			break
		}
	}
	for n := 0; float64(n)*step <= q.Seconds+1e-9; n++ { // 1e-9 s: rounding of the sum
		at := float64(n) * step
		s.Line(drawing.Pt(x(at), line), drawing.Pt(x(at), line-1.2), drawing.Fine)
		words := fmt.Sprint(math.Round(at*10) / 10)
		h := drawing.Middle
		switch {
		case n == 0:
			words, h = "0 s", drawing.Start
		case x(q.Seconds)-x(at) < 2:
			h = drawing.End
		}
		s.Text(drawing.Text{At: drawing.Pt(x(at), line-2.8), V: drawing.Centre, H: h, String: words, Size: drawing.SizeCaption})
	}
}

// sealed is how far a box of colour runs under the next, so that no paper shines
// through between them, mm.
const sealed = 0.08

// strip is the lamps, the first at the foot: stretches of one colour are one box.
func (q Sequence) strip(s *drawing.Scene, x func(float64) float64) {
	every := (len(q.Columns) + mostStrips - 1) / mostStrips
	lamps := len(q.Columns[0])
	s.Begin(drawing.Group{ID: "strip-" + q.Show.ID, Class: "strip", Role: "img", Title: s.Title})
	defer s.End()
	end := func(k int) float64 { return x(min(float64(k)*q.Step, q.Seconds)) }
	for lamp := range lamps {
		top := secondsAxis + secondsStrip*float64(lamps-1-lamp)/float64(lamps)
		high := secondsStrip / float64(lamps)
		for k := 0; k < len(q.Columns); {
			to := k + every
			for to < len(q.Columns) && q.Columns[to][lamp] == q.Columns[k][lamp] {
				to += every
			}
			c := q.Columns[k][lamp]
			box := drawing.Rect{X: end(k), Y: top, W: min(end(to)+sealed, x(q.Seconds)) - end(k), H: high}
			if lamp > 0 {
				box.H += sealed
			}
			s.Rect(box, drawing.Filled(drawing.Colour(fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]))))
			k = to
		}
	}
	s.Rect(drawing.Rect{X: x(0), Y: secondsAxis, W: x(q.Seconds) - x(0), H: secondsStrip}, drawing.Lined(drawing.Thin))
}
