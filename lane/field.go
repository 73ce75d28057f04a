package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

// halfView is one half of the elevation: its map onto the paper, the part of the paper
// that it may draw on, and which heights it shows.
type halfView struct {
	plot

	scene *drawing.Scene
	clip  drawing.Rect
	sign  float64 // +1 the upper half, outside; -1 the lower, in section
}

func (h halfView) fill(path *drawing.Path, c drawing.Colour) {
	h.area(path, drawing.Filled(c))
}

// area fills and, with even-odd, keeps holes; lines are drawn apart.
func (h halfView) area(path *drawing.Path, st drawing.Style) {
	if inside := path.Clipped(h.clip); !inside.Empty() {
		h.scene.Path(inside, drawing.Style{Fill: st.Fill, EvenOdd: st.EvenOdd, Opacity: st.Opacity})
	}
}

func (h halfView) line(path *drawing.Path, st drawing.Stroke) {
	if inside := path.Within(h.clip); !inside.Empty() {
		h.scene.Path(inside, drawing.Lined(st))
	}
}

func (h halfView) hatch(path *drawing.Path, t drawing.Hatch) {
	if inside := path.Clipped(h.clip); !inside.Empty() {
		h.scene.Hatch(inside, t)
	}
}

// picture is an own piece's path, taken from full size onto the paper.
func (h halfView) picture(path *drawing.Path) *drawing.Path {
	return path.Mapped(func(q drawing.Point) drawing.Point { return h.at(q.X, -q.Y) })
}

// box is a box between two stations and two heights.
func (h halfView) box(from, to, low, high float64) *drawing.Path {
	return drawing.Polygon(h.at(from, low), h.at(to, low), h.at(to, high), h.at(from, high))
}

// shows reports whether a place lies on the half's part of the paper.
func (h halfView) shows(station, height float64) bool {
	q := h.at(station, height)
	return q.X >= h.clip.X && q.X <= h.clip.X+h.clip.W && q.Y >= h.clip.Y-0.01 && q.Y <= h.clip.Y+h.clip.H+0.01
}

// mostBody is the height on paper that a part of the build takes in the elevation
// at most; what is larger is cropped about the axis, so that walls and joints stay in
// view. The whole build is never cropped: [Fitted] gives it a span that is wide enough.
const mostBody = 116.0

// rimShare of a cropped half lies inside the body's largest radius.
const rimShare = 0.86

// extent is how far the build reaches above and below the axis in the view, mm at
// full size, and how much about the axis is left out.
type extent struct{ up, down, skip float64 }

func (p *Prepared) extent(v View) extent {
	from, to := v.seen()
	radius := 0.0
	for i, q := range p.profile {
		if q.Station >= from && q.Station <= to {
			radius = max(radius, q.Radius)
		}
		if i > 0 { // what runs across the view's ends
			radius = max(radius, across(p.profile[i-1], q, from), across(p.profile[i-1], q, to))
		}
	}
	e := extent{up: radius, down: radius}
	for _, o := range p.own {
		if v.touches(float64(o.span.From), float64(o.span.To)) {
			e.up, e.down = max(e.up, o.up), max(e.down, -o.down)
		}
	}
	k := v.Scale()
	if (e.up+e.down)*k <= mostBody || v.holds(float64(p.Span.From), float64(p.Span.To)) {
		return e
	}
	room := mostBody / 2 / k
	if radius == 0 { // nothing turned: cropped at its upper and lower edge
		share := 2 * room / (e.up + e.down)
		e.up, e.down = e.up*share, e.down*share
		return e
	}
	e.skip = max(0, radius-rimShare*room)
	e.up, e.down = min(e.up, e.skip+room), min(e.down, e.skip+room)
	return e
}

// Fitted is the view of the whole build, with room left at its far end where it is
// so stout that it would stand higher than the elevation should.
func Fitted(p *Prepared, v View) View {
	v.Span = p.Span
	if v.Scale() == 0 {
		return v
	}
	e := p.extent(v)
	if high := (e.up + e.down) * v.Scale(); high > mostBody {
		v.Span.To = v.Span.From + v.Span.Length()*unit.Length(high/mostBody)
	}
	return v
}

// across is the radius of a straight piece at a station, 0 past its ends.
func across(a, b model.Point, station float64) float64 {
	if !(a.Station <= station && station <= b.Station) || a.Station == b.Station {
		return 0
	}
	return a.Radius + (station-a.Station)/(b.Station-a.Station)*(b.Radius-a.Radius)
}

// halves lays both halves about an axis on the paper.
func (p *Prepared) halves(s *drawing.Scene, v View, e extent, axis float64) (up, low halfView) {
	k := v.Scale()
	place := func(sign float64) halfView {
		// What is left out about the axis moves each half towards it.
		origin := drawing.Pt(v.X(0), axis+sign*e.skip*k)
		h := halfView{plot: lying(k, origin), scene: s, sign: sign}
		reach := (e.up - e.skip) * k
		h.clip = drawing.Rect{X: edge, Y: axis - reach - lineRoom, W: s.Width - 2*edge, H: reach + lineRoom}
		if sign < 0 {
			h.clip.Y, h.clip.H = axis, (e.down-e.skip)*k+lineRoom
		}
		if e.skip == 0 { // lines on the axis and the other half's edge are whole
			h.clip.H += lineRoom
			if sign < 0 {
				h.clip.Y -= lineRoom
			}
		}
		return h
	}
	return place(1), place(-1)
}

// lineRoom past the edge lets an outline keep its whole width.
const lineRoom = 0.4

// finite reports whether a figure can be drawn.
func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
