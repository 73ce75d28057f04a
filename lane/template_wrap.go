package lane

import (
	"fmt"
	"math"

	"scalewright/craft/development"
	"scalewright/drawing"
	"scalewright/model"
)

// wrap is paper round a body, or in it, being drawn flat: turns to the right and
// stations up.
type wrap struct {
	skin      development.Skin
	low, high float64 // stations
	left      float64 // turns
	right     float64
	flap      float64 // mm glued under, past the right end
	s         *drawing.Scene
	at        drawing.Point // of the skin's own origin
}

// wrapRim is kept round what is drawn, so that no line is cut off, mm.
const wrapRim = 1.0

// Lapped is how wide the flap is that holds a wrap's ends together, mm.
const lapped = 12.0

// newWrap makes room for a skin between two turns and two stations.
func newWrap(skin development.Skin, left, right, low, high, flap float64) *wrap {
	skin.Turn, skin.Station = (left+right)/2, low
	w := &wrap{skin: skin, low: low, high: high, left: left, right: right, flap: flap}
	box := drawing.Polyline(append(w.edge(left, w.flapEnd(), low), w.edge(left, w.flapEnd(), high)...)...).Bounds()
	w.s = drawing.New(box.W+2*wrapRim, box.H+2*wrapRim)
	w.at = drawing.Pt(wrapRim-box.X, wrapRim-box.Y)
	return w
}

// pt is where a turn and a station lie.
func (w *wrap) pt(turn, station float64) drawing.Point {
	p := w.skin.At(turn, station)
	return w.at.Add(drawing.Pt(p.X, -p.Y))
}

// flapEnd is the turn at which the flap ends.
func (w *wrap) flapEnd() float64 {
	return w.right + w.flap/max(w.skin.Radius(w.low), w.skin.Radius(w.high))
}

// edgeStep is the turn between places of a line round a cone: chords stay within
// 0.01 mm of it up to a radius of 2 m.
const edgeStep = math.Pi / 1000

// edge is the line round the body at a station.
func (w *wrap) edge(left, right, station float64) []drawing.Point {
	n := 1
	if math.Abs(w.skin.From.Radius-w.skin.To.Radius) > wrapFlat {
		n = int(math.Ceil(math.Abs(right-left) / edgeStep))
	}
	var out []drawing.Point
	for i := range n + 1 {
		out = append(out, w.pt(left+(right-left)*float64(i)/float64(n), station))
	}
	return out
}

// wrapFlat is the difference of radii below which a skin's edges are straight, mm.
const wrapFlat = 1e-9

// round draws a line round the body.
func (w *wrap) round(station float64, stroke drawing.Stroke) {
	w.s.Path(drawing.Polyline(w.edge(w.left, w.right, station)...), drawing.Lined(stroke))
}

// along draws a line along the body at a turn.
func (w *wrap) along(turn, from, to float64, stroke drawing.Stroke) {
	w.s.Line(w.pt(turn, from), w.pt(turn, to), stroke)
}

// border draws the lines to cut along, and the flap with its fold.
func (w *wrap) border() {
	loop := w.edge(w.left, w.right, w.low)
	top := w.edge(w.left, w.right, w.high)
	for i := len(top) - 1; i >= 0; i-- {
		loop = append(loop, top[i])
	}
	w.s.Path(drawing.Polygon(loop...), drawing.Lined(drawing.Outline))
	if w.flap <= 0 {
		return
	}
	end := w.flapEnd()
	under := append(w.edge(w.right, end, w.low), w.pt(end, w.high))
	back := w.edge(w.right, end, w.high)
	for i := len(back) - 2; i >= 0; i-- {
		under = append(under, back[i])
	}
	w.s.Path(drawing.Polyline(under...), drawing.Lined(drawing.Hidden))
	w.lap((w.low + w.high) / 2)
}

// lap names the flap.
func (w *wrap) lap(station float64) {
	words, turned := "lap under", -90.0
	if drawing.Measure(words, drawing.Regular, drawing.SizeSmall) > (w.high-w.low)*0.9 {
		words, turned = "lap", 0
	}
	w.letter((w.right+w.flapEnd())/2, station, words, turned)
}

// stacked are wraps one under another.
func stacked(rows []*wrap) *drawing.Scene {
	if len(rows) == 1 {
		return rows[0].s
	}
	const gap = 3.0
	width, height := 0.0, -gap
	for _, w := range rows {
		width, height = max(width, w.s.Width), height+gap+w.s.Height
	}
	s := drawing.New(width, height)
	y := 0.0
	for i, w := range rows {
		s.Place(w.s, drawing.Pt(0, y), fmt.Sprintf("row-%d-", i+1))
		y += w.s.Height + gap
	}
	return s
}

// Rolled flat, a steep cone makes a wide ring: one that rises more than this above
// its own height, mm, is drawn in quarters.
const mostRise = 50.0

// wrapped are the wraps that go once round a skin: one, or four quarters of a steep
// cone.
func wrapped(skin development.Skin, low, high float64) []*wrap {
	whole := newWrap(skin, 0, 2*math.Pi, low, high, lapped)
	if whole.s.Height-(high-low) < mostRise {
		return []*wrap{whole}
	}
	var out []*wrap
	for q := range 4 {
		out = append(out, newWrap(skin, float64(q)*math.Pi/2, float64(q+1)*math.Pi/2, low, high, lapped))
	}
	return out
}

// holds reports whether a turn lies on the paper, its right end left out.
func (w *wrap) holds(turn float64) bool { return turn >= w.left-1e-9 && turn < w.right-1e-9 }

// letter sets words in the middle of a place, turned with the paper.
func (w *wrap) letter(turn, station float64, words string, turned float64) {
	w.s.Text(drawing.Text{
		At: w.pt(turn, station), H: drawing.Middle, V: drawing.Centre, String: words, Size: drawing.SizeSmall, Halo: 0.6,
		Rotate: w.lean(turn, station) + turned,
	})
}

// lean is how the paper's line round the body runs at a place, degrees clockwise.
func (w *wrap) lean(turn, station float64) float64 {
	const step = 1e-4
	a, b := w.pt(turn-step, station), w.pt(turn+step, station)
	d := math.Atan2(b.Y-a.Y, b.X-a.X) * 180 / math.Pi
	if math.Abs(d) < 1e-6 {
		return 0
	}
	return d
}

// farEnd is an arrow towards the far end, with its words.
func (w *wrap) farEnd(turn, station, long float64) {
	tip, foot := w.pt(turn, station+long), w.pt(turn, station)
	arrow(w.s, foot, tip)
	back := foot.Sub(tip).Mul(1 / foot.Dist(tip))
	side := drawing.Pt(-back.Y, back.X)
	w.s.Text(drawing.Text{
		At: tip.Add(back.Mul(long / 2)).Sub(side.Mul(-2.6)), H: drawing.Middle, V: drawing.Centre, String: "far end", Size: drawing.SizeSmall,
		Rotate: w.lean(turn, station) - 90, Halo: 0.6,
	})
}

// arrow is a line with its head at the tip.
func arrow(s *drawing.Scene, foot, tip drawing.Point) {
	back := foot.Sub(tip).Mul(1 / foot.Dist(tip))
	side := drawing.Pt(-back.Y, back.X)
	s.Line(foot, tip, drawing.Thin)
	s.Path(drawing.Polygon(tip, tip.Add(back.Mul(3)).Add(side.Mul(0.9)), tip.Add(back.Mul(3)).Sub(side.Mul(0.9))), drawing.Filled(drawing.Ink))
}

// quarters marks the turns at an edge of the paper: every 15° short, every 45°
// longer and lettered, so far along the body from the edge.
func (w *wrap) quarters(station, long float64, lettered bool) {
	const step = math.Pi / 12
	first := int(math.Ceil(w.left/step - 1e-9))
	for i := first; float64(i)*step < w.right-1e-9; i++ {
		turn, tall := float64(i)*step, long/2
		if i%3 == 0 {
			tall = long
			if lettered {
				at := w.pt(turn, station+long)
				w.s.Text(drawing.Text{At: at.Add(drawing.Pt(1.2, 2.6)), String: degrees(turn), Size: drawing.SizeCaption, Halo: 0.5})
			}
		}
		w.along(turn, station, station+tall, drawing.Thin)
	}
}

// places are a profile as the formulae take it.
func places(profile []model.Point) []development.Place {
	out := make([]development.Place, len(profile))
	for i, p := range profile {
		out[i] = development.Place{Station: p.Station, Radius: p.Radius}
	}
	return out
}

// skinOn is the skin on a profile between two stations, and how far the profile
// strays from it. At a step it takes the side within the stretch.
func skinOn(profile []model.Point, low, high float64) (development.Skin, float64, bool) {
	from, to := radiusAfter(profile, low), radiusBefore(profile, high)
	s := development.Skin{From: development.Place{Station: low, Radius: from}, To: development.Place{Station: high, Radius: to}}
	if from <= 0 || to <= 0 || high <= low {
		return s, 0, false
	}
	inner := places(profile)
	for len(inner) > 0 && inner[0].Station <= low {
		inner = inner[1:]
	}
	for len(inner) > 0 && inner[len(inner)-1].Station >= high {
		inner = inner[:len(inner)-1]
	}
	return s, s.Straying(inner), true
}

// skinAbout is the skin on a profile over a stretch, and up to so much room past
// either end: as much as makes the paper lie no worse.
func skinAbout(profile []model.Point, low, high, room float64) (development.Skin, float64, bool) {
	if len(profile) == 0 {
		return development.Skin{}, 0, false
	}
	var skin development.Skin
	first, last, found := 0.0, 0.0, false
	for _, share := range [...]float64{0.1, 0.25, 0.5, 0.75, 1} { // growing
		from, to := max(low-share*room, profile[0].Station), min(high+share*room, profile[len(profile)-1].Station)
		s, off, ok := skinOn(profile, from, to)
		if !ok || found && off > first+worse {
			break
		}
		if !found {
			first, found = off, true
		}
		skin, last = s, off
	}
	return skin, last, found
}

// worse is what paper may stand off more for the sake of its room, mm.
const worse = 0.05

// radiusAfter is a profile's radius just past a station, 0 where it isn't.
func radiusAfter(profile []model.Point, station float64) float64 {
	for i := 1; i < len(profile); i++ {
		a, b := profile[i-1], profile[i]
		if a.Station <= station && station < b.Station {
			return a.Radius + (station-a.Station)/(b.Station-a.Station)*(b.Radius-a.Radius)
		}
	}
	return 0
}

// radiusBefore is a profile's radius just before a station, 0 where it isn't.
func radiusBefore(profile []model.Point, station float64) float64 {
	for i := len(profile) - 1; i > 0; i-- {
		a, b := profile[i-1], profile[i]
		if a.Station < station && station <= b.Station {
			return a.Radius + (station-a.Station)/(b.Station-a.Station)*(b.Radius-a.Radius)
		}
	}
	return 0
}

// outerOf is the outer profile of a part on its own axis.
func (t *templates) outerOf(part string) []model.Point {
	for i, p := range t.r.Design.Parts {
		if p.ID == part && i < len(t.r.Raw) {
			return t.r.Raw[i].Outer
		}
	}
	return nil
}
