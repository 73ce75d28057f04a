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

// roundTip closes a body that ends in a tip: a short blunt line at its end,
// which is all that stations without a reading leave of a rounded end, becomes
// the arc about the axis through where it begins and the tip.
func roundTip(o model.Outline, tip float64) model.Outline {
	if len(o) == 0 {
		return o
	}
	last := o[len(o)-1]
	h, r := tip-last.From.Station, last.From.Radius
	if last.Kind != model.Line || last.To.Radius == 0 || h <= 0 || h > r {
		return o
	}
	// A circle about the axis through (−h, r) and the tip: R = (h² + r²)/2h.
	radius := (h*h + r*r) / (2 * h)
	end := model.Point{Station: tip}
	return append(slices.Clone(o[:len(o)-1]), model.Segment{
		Kind: model.Arc, From: last.From, To: end, R: radius,
		Centre: model.Point{Station: tip - radius},
	})
}
