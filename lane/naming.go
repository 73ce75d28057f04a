package lane

import (
	"cmp"
	"slices"

	"scalewright/drawing"
)

// naming letters what lies on a drawing when all of it is down: a name stands in
// its box where it fits there and nothing runs through it, else beside on a leader.
type naming struct {
	s     *drawing.Scene
	room  *drawing.Room
	area  drawing.Rect
	names []placeName
}

// placeName is a name that is still to be lettered.
type placeName struct {
	words string
	tip   drawing.Point
	box   drawing.Rect
}

// newNaming begins with what a scene holds; names on leaders stay in the area.
func newNaming(s *drawing.Scene, area drawing.Rect) *naming {
	n := &naming{s: s, room: drawing.NewRoom(area), area: area}
	n.room.Take(s, 0)
	for _, it := range s.Items {
		if d, ok := it.(drawing.Drawn); ok && d.Style.Stroke.Width > 0 {
			for _, l := range d.Path.Segments() {
				n.room.Line(l.A, l.B)
			}
		}
	}
	return n
}

func (n *naming) name(words string, tip drawing.Point, box drawing.Rect) {
	n.names = append(n.names, placeName{words, tip, box})
}

// nameRows is how far rows of names on leaders lie apart, mm.
const nameRows = 4.6

// nameClear is kept past the end of a name on a leader, mm.
const nameClear = 1.0

// draw letters all names: those in their boxes first, then those on leaders, by
// their places across.
func (n *naming) draw() {
	var left []placeName
	for _, x := range n.names {
		if !n.within(x) {
			left = append(left, x)
		}
	}
	slices.SortStableFunc(left, func(a, b placeName) int { return cmp.Compare(a.tip.X, b.tip.X) })
	var rows []float64
	for y := n.area.Y + nameRows/2; y < n.area.Y+n.area.H; y += nameRows {
		rows = append(rows, y)
	}
	const size = drawing.SizeSmall
	for _, x := range left {
		seat, ok := n.room.Seat(drawing.Seat{Tip: x.tip, W: drawing.Measure(x.words, drawing.Regular, size) + nameClear, H: size * 1.2, Rows: rows})
		if !ok {
			continue // the table beside names it
		}
		n.s.Begin(drawing.Group{Class: "label", Title: x.words})
		n.s.Path(drawing.Polyline(seat.Leader...), drawing.Lined(drawing.Fine))
		n.s.Path(drawing.Circle(seat.Leader[0], 0.45), drawing.Filled(drawing.Ink))
		t := drawing.Text{At: drawing.Pt(seat.Box.X, seat.Box.Y+seat.Box.H/2), V: drawing.Centre, String: x.words, Size: size, Halo: 0.5}
		if !seat.Left {
			t.At.X, t.H = seat.Box.X+seat.Box.W, drawing.End
		}
		n.s.Text(t)
		n.s.End()
	}
}

// within letters a name in its box, level or upwards, where that has room.
func (n *naming) within(x placeName) bool {
	for _, turn := range [...]float64{0, -90} {
		t := drawing.Text{At: x.box.Centre(), H: drawing.Middle, V: drawing.Centre, String: x.words, Size: drawing.SizeSmall, Halo: 0.6, Rotate: turn}
		inside := true
		for _, c := range t.Corners() {
			b := x.box.Inset(0.6)
			inside = inside && c.X > b.X && c.Y > b.Y && c.X < b.X+b.W && c.Y < b.Y+b.H
		}
		if inside && n.s.Clear(t) {
			n.s.Text(t)
			corners := t.Corners()
			n.room.Words(drawing.Polygon(corners[:]...).Bounds())
			return true
		}
	}
	return false
}
