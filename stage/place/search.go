package place

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// worth is what a place costs a component, mm: the less, the better.
type worth func(model.Component, model.Bay) float64

// search finds a component the place that costs least. First it looks flat on the
// wall on the grid, then on the grid in every position, and last at each millimetre
// and degree and where the box would touch what is there: a room that is just large
// enough is found.
func (w *work) search(c model.Component, cost worth) (model.Bay, bool) {
	if b, ok := w.over(c, lies[:flat], false, cost); ok {
		return b, true
	}
	if b, ok := w.over(c, lies[flat:], false, cost); ok {
		return b, true
	}
	return w.over(c, lies[:], true, cost)
}

// over looks over all rooms of the component's part.
func (w *work) over(c model.Component, how []lie, fine bool, cost worth) (model.Bay, bool) {
	var best model.Bay
	least := math.Inf(1)
	for _, r := range w.all {
		if r.part != c.Part {
			continue
		}
		for _, l := range how {
			b := stand(c, l)
			for _, b.station = range w.stations(r, b.along, fine) {
				for _, b.clocking = range w.clockings(c, r, b, fine) {
					bay, ok := w.within(c, r, b)
					if !ok {
						continue
					}
					// What is in its way takes longest to find, so it is looked for last.
					if d := cost(c, bay); d < least {
						if _, free := w.free(bay); free {
							best, least = bay, d
						}
					}
				}
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// fits is the bay of a box, against the wall, where nothing is in its way.
func (w *work) fits(c model.Component, r room, b box) (model.Bay, bool) {
	bay, ok := w.within(c, r, b)
	if !ok {
		return model.Bay{}, false
	}
	_, free := w.free(bay)
	return bay, free
}

// within is the bay of a box, against the wall, whatever is in its way there.
func (w *work) within(c model.Component, r room, b box) (model.Bay, bool) {
	b, lacks := b.out(w.limit(r, b), w.middleAt(b))
	if lacks > 0 {
		return model.Bay{}, false
	}
	return b.bay(c, r), true
}

// limit is how far out a box's corners may lie: to the wall and the joints, and to
// the ledges and tongues over which it lies.
func (w *work) limit(r room, b box) float64 {
	outer := r.outerAt(b.station-b.along/2, b.station+b.along/2)
	limit := outer - clear
	// Seen from the axis the corners of the inner face lie furthest round.
	inside := math.Sqrt(math.Max(0, limit*limit-b.round*b.round/4)) - b.deep
	corner := math.Atan2(b.round/2, math.Max(inside, 0)) * outer
	over := func(at, half, turn, wide float64) bool {
		arc := math.Abs(math.Remainder(b.clocking-turn, 2*math.Pi)) * outer
		return math.Abs(b.station-at) < half+b.along/2+clear && (b.all || arc < wide+corner+clear)
	}
	for _, v := range w.Division.Windows {
		o := v.Opening
		if v.Piece != r.piece.ID || !o.Panel {
			continue
		}
		wall := w.wallOf(r.part)
		high, wide := math.Max(float64(o.High), float64(o.Across)), math.Max(float64(o.Wide), float64(o.Across))
		if over(float64(o.Station), high/2+float64(model.LedgeWide)+wall, o.Clocking, wide/2+float64(model.LedgeWide)) {
			// The ledge is one ring, as far in as the wall is where it is narrowest.
			low := r.outerAt(float64(o.Station)-high/2-float64(model.LedgeWide), float64(o.Station)+high/2+float64(model.LedgeWide))
			limit = math.Min(limit, low-wall-clear)
		}
	}
	for _, t := range w.Division.Tabs {
		if t.Host == r.piece.ID && over(float64(t.Span.From+t.Span.To)/2, float64(t.Span.Length())/2, t.Clocking, float64(t.Thick)/2) {
			limit = math.Min(limit, float64(t.Tip)-clear)
		}
	}
	for _, h := range w.Division.Holds {
		// A pad slopes to the wall at one of its ends, whichever is down in print.
		middle, half := float64(h.PadSpan.From+h.PadSpan.To)/2, float64(h.PadSpan.Length()/2+h.Pad)
		if h.Host == r.piece.ID && h.Pad > 0 && over(middle, half, h.Clocking, float64(h.Half)) {
			low := r.outerAt(float64(h.PadSpan.From), float64(h.PadSpan.To))
			limit = math.Min(limit, low-float64(h.Pad)-clear)
		}
	}
	return limit
}

// largest is the place of the largest box of a component's shape that there is room
// for, to a thousandth of its size.
func (w *work) largest(c model.Component) (model.Bay, bool) {
	var best model.Bay
	found := false
	low, high := 0.0, 1.0
	for range 10 {
		share := (low + high) / 2
		less := c
		less.Kind.Plug = 0
		for i, s := range sizeOf(c) {
			less.Kind.Size[i] = unit.Length(math.Max(0, s*share-2*spare))
		}
		b, ok := w.over(less, lies[:], false, func(model.Component, model.Bay) float64 { return 0 })
		if ok {
			best, found, low = b, true, share
		} else {
			high = share
		}
	}
	return best, found
}

// free reports whether a bay keeps off all that lies inside, and names the first
// that it does not keep off.
func (w *work) free(b model.Bay) (model.Bay, bool) {
	for _, all := range [...][]model.Bay{w.bays, w.things} {
		for _, other := range all {
			if !apart(b, other) {
				return other, false
			}
		}
	}
	return model.Bay{}, true
}
