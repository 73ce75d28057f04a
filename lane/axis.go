package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/unit"
)

const (
	axisHeight = 11.0
	leastTick  = 17.0 // mm of paper between lettered stations
)

// Axis is the scale of stations over the lanes: at full size above its line in
// ink, of the reference below it in pencil italic.
func Axis(p *Prepared, v View) *drawing.Scene {
	s := v.paper(axisHeight)
	s.Title = "Stations"
	k := v.Scale()
	if k == 0 {
		return s
	}
	const line = axisHeight / 2
	s.Line(drawing.Pt(edge, line), drawing.Pt(s.Width-edge, line), drawing.Thin)
	from, to := v.seen()
	ticks(from, to, k, v.System, 1, func(at float64, text string, long bool) {
		x := v.X(unit.Length(at))
		size := 1.0
		if long {
			size = 1.8
		}
		s.Line(drawing.Pt(x, line), drawing.Pt(x, line-size), drawing.Fine)
		if t := (drawing.Text{At: drawing.Pt(x, line-2.4), H: drawing.Middle, String: text, Size: drawing.SizeSmall}); long && within(t, s) {
			s.Text(t)
		}
	})
	if r := p.Enlarge.Ratio; r > 0 && finite(r) {
		ticks(from, to, k, v.System, r, func(at float64, text string, long bool) {
			x := v.X(unit.Length(at))
			size := 1.0
			if long {
				size = 1.8
			}
			s.Line(drawing.Pt(x, line), drawing.Pt(x, line+size), drawing.Fine.In(drawing.Pencil))
			if t := (drawing.Text{At: drawing.Pt(x, line+4.6), H: drawing.Middle, String: text, Face: drawing.Italic, Size: drawing.SizeSmall, Colour: drawing.Pencil}); long && within(t, s) {
				s.Text(t)
			}
		})
	}
	if _, ok := v.plumb(); ok {
		x := v.X(v.Plumb)
		s.Path(drawing.Circle(drawing.Pt(x, line), 0.7), drawing.Filled(drawing.Ink))
		s.Line(drawing.Pt(x, line), drawing.Pt(x, s.Height), drawing.Fine)
	}
	return s
}

func within(t drawing.Text, s *drawing.Scene) bool {
	b := t.Bounds()
	return b.X >= edge && b.X+b.W <= s.Width-edge
}

// Steps of stations, in the unit's own size: 1, 2, 5 and tens of a millimetre; of
// inches the halves below one, and 1, 2, 3, 6 and 12 and their tens of feet above.
var (
	stepsMM = [...]float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000}
	stepsIn = [...]float64{0.0625, 0.125, 0.25, 0.5, 1, 2, 3, 6, 12, 24, 60, 120, 240}
)

// ticks calls draw for every station worth a tick; the long ones are lettered.
// Stations count in units so many times the millimetre or the inch.
func ticks(from, to, k float64, u unit.System, times float64, draw func(at float64, text string, long bool)) {
	steps, one := stepsMM[:], times
	if u == unit.FeetInches {
		steps, one = stepsIn[:], times*float64(unit.Inch)
	}
	step := steps[len(steps)-1]
	for _, s := range steps {
		if s*one*k >= leastTick {
			step = s
			break
		}
	}
	small := step / 5
	if u == unit.FeetInches {
		small = step / 2
		if step >= 6 {
			small = step / 6
		}
	}
	if small*one*k < 1.2 {
		small = step
	}
	per := math.Round(step / small)
	const mostTicks = 4000 // past this the paper is black
	first, last := math.Ceil(from/(small*one)-1e-9), math.Floor(to/(small*one)+1e-9)
	if last-first > mostTicks {
		return
	}
	for n := first; n <= last; n++ {
		at := n * small * one
		draw(at, u.Figure(unit.Length(at/times)), math.Mod(n, per) == 0)
	}
}
