package place

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// intoCore takes the duct through the core past the stretch where joints leave no
// room beside it: in by the core's end or by a hole, out by a hole or its other end,
// the holes in rooms. Where neither can be, there is no way along.
func (w *work) intoCore(d *duct, low, high float64) {
	c := w.Design.Core
	if c == nil || c.Stock.Rod() {
		return
	}
	foot, head := float64(c.Span.From), float64(c.Span.To)
	first, last := math.Inf(1), math.Inf(-1)
	for z := math.Max(low, foot); z <= math.Min(high, head); z++ {
		if w.tight(z) {
			first, last = math.Min(first, z), math.Max(last, z)
		}
	}
	if first > last {
		return
	}
	in, out := foot-before, head+before
	var holes []model.Pass
	if low >= foot || first > foot+passWide+2*passEdge {
		at, ok := w.holeBelow(first)
		if !ok {
			return
		}
		in, holes = at, append(holes, w.coreHole(at, d.clocking))
	}
	if high <= head || last < head-passWide-2*passEdge {
		at, ok := w.holeAbove(last)
		if !ok {
			return
		}
		out, holes = at, append(holes, w.coreHole(at, d.clocking))
	}
	d.tight, d.inCore, d.holes = [2]float64{first, last}, [2]float64{in, out}, holes
}

// before is how far off the core's end a cable is still beside it, mm.
const before = 1.0

// through reports whether a way between two stations takes the core.
func (d duct) through(low, high float64) bool {
	return d.inCore[0] < d.inCore[1] && low < d.tight[1] && high > d.tight[0]
}

// coreHole is a hole through the core's wall, drilled before anything is glued.
func (w *work) coreHole(station, clocking float64) model.Pass {
	return model.Pass{
		Core: true, Station: unit.Length(station), Clocking: clocking,
		Radius: w.Design.Core.Stock.OD / 2, Across: passWide,
	}
}

// holeAbove is the first place for a hole in the core above a station: in a room,
// the hole and its edge off both ends and the bushes.
func (w *work) holeAbove(z float64) (float64, bool) {
	const need = passWide/2 + passEdge
	best := math.Inf(1)
	for _, r := range w.all {
		at := math.Max(r.from, z) + need
		for _, p := range w.bushes(at-need, math.Inf(1)) {
			if float64(p.Span.From) < at+need {
				at = float64(p.Span.To) + need
			}
		}
		if at+need <= r.to && at+need <= float64(w.Design.Core.Span.To) && !w.tight(at) {
			best = math.Min(best, at)
		}
	}
	return best, !math.IsInf(best, 1)
}

// holeBelow is the last such place below a station.
func (w *work) holeBelow(z float64) (float64, bool) {
	const need = passWide/2 + passEdge
	best := math.Inf(-1)
	for _, r := range w.all {
		at := math.Min(r.to, z) - need
		for _, p := range w.bushes(at+need, math.Inf(-1)) {
			if float64(p.Span.To) > at-need {
				at = float64(p.Span.From) - need
			}
		}
		if at-need >= r.from && at-need >= float64(w.Design.Core.Span.From) && !w.tight(at) {
			best = math.Max(best, at)
		}
	}
	return best, !math.IsInf(best, -1)
}

// lumen is the ring inside the core that is free of the post and of joints that
// stand in it.
func (w *work) lumen(z float64) (inner, outer float64) {
	c := w.Design.Core
	if s := w.Design.Stand; s != nil && z < float64(c.Span.From+s.Engage) {
		inner = float64(s.Post.Widest())/2 + clear
	}
	outer = float64(c.Stock.OD)/2 - float64(c.Stock.Wall) - clear
	if wall := w.wallAt(z); wall > 0 {
		outer = math.Min(outer, wall)
	}
	return inner, outer
}
