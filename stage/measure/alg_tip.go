package measure

import (
	"math"
	"slices"

	"scalewright/model"
)

// tipReach is how near to the object's end, mm, a typed stretch's end is taken
// to be the object's end.
const tipReach = 1.0

// atEnd moves a typed stretch that ends at the object's far end so that both
// ends are one: a typed tip goes with the tip, whatever the photograph makes of
// the length.
func atEnd(h Hidden, length float64) Hidden {
	if len(h.Typed) == 0 || math.Abs(h.Typed.End()-length) > tipReach {
		return h
	}
	by := length - h.Typed.End()
	h.Typed = slices.Clone(h.Typed)
	for i := range h.Typed {
		s := &h.Typed[i]
		for _, p := range []*model.Point{&s.From, &s.To, &s.Centre} {
			p.Station += by
		}
	}
	h.From, h.To = h.From+by, length
	return h
}
