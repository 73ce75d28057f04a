package place

import (
	"math"
	"slices"

	"scalewright/model"
)

// spot is an end of a way, and the room that it lies in; -1 outside.
type spot struct {
	station, clocking, radius float64
	room                      int
	half                      float64 // of its bay along the axis
}

func end(b model.Bay) spot {
	if b.Wound > 0 {
		return spot{station: float64(b.Centre[2]), radius: float64(b.Wound) - float64(b.Size[0]), half: float64(b.Size[2]) / 2}
	}
	x, y := float64(b.Centre[0]), float64(b.Centre[1])
	return spot{station: float64(b.Centre[2]), clocking: math.Atan2(y, x), radius: math.Hypot(x, y), half: reach(b, [3]float64{0, 0, 1})}
}

// spot of a bay. The ends of a strip wound round lie at the duct.
func (w *work) spot(b model.Bay, d duct) spot {
	s := end(b)
	if b.Wound > 0 {
		s.clocking = d.clocking
	}
	s.room = slices.IndexFunc(w.all, func(r room) bool {
		return r.piece.ID == b.Piece && s.station >= r.from && s.station <= r.to
	})
	return s
}

// together reports whether two spots lie in one room, and a cable passes between.
func (w *work) together(a, b spot) bool {
	if a.room < 0 || a.room != b.room {
		return false
	}
	for z := math.Min(a.station, b.station); z <= math.Max(a.station, b.station); z++ {
		if w.tight(z) {
			return false
		}
	}
	return true
}

// footPart is the part in which the body begins.
func (w *work) footPart() model.Part {
	var foot model.Part
	for _, p := range w.Design.Parts {
		if p.OnBody() && (foot.ID == "" || p.Span.From < foot.Span.From) {
			foot = p
		}
	}
	return foot
}

// opens reports whether the body is open at its foot.
func (w *work) opens() bool { return w.footPart().OpenFoot }

// exit is where a lead leaves the build: in the duct at its foot, or where that is
// closed through an opening with nothing in it.
func (w *work) exit(d duct) spot {
	if !w.opens() {
		for i, r := range w.all {
			for _, o := range r.windows {
				if !o.Opening.Panel {
					return spot{station: float64(o.Opening.Station), clocking: o.Opening.Clocking, radius: float64(o.Radius), room: i}
				}
			}
		}
	}
	low := w.lowest()
	return spot{station: low, clocking: d.clocking, radius: w.ductRadius(low), room: -1}
}
