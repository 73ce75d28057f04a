package place

import (
	"math"
	"slices"

	"scalewright/model"
)

// mostStations bounds how finely a long room is looked over.
const mostStations = 2000

// stations are those that a box of a length along the axis is tried at: on the
// grid, or at each millimetre and where it touches an end or what is there.
func (w *work) stations(r room, along float64, fine bool) []float64 {
	from, to := r.from+along/2, r.to-along/2
	if from > to {
		return nil
	}
	step := alongStep
	if fine {
		step = 1
	}
	step = math.Max(step, (to-from)/mostStations)
	var out []float64
	for k := 0; from+float64(k)*step <= to; k++ {
		out = append(out, from+float64(k)*step)
	}
	if !fine {
		return out
	}
	out = append(out, to)
	for _, b := range append(slices.Clone(w.bays), w.things...) {
		half := half(b, along)
		for _, z := range [...]float64{float64(b.Centre[2]) - half, float64(b.Centre[2]) + half} {
			if from <= z && z <= to {
				out = append(out, z)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// half is how far apart along the axis the middles of a bay and of a box of a length
// are when they touch.
func half(b model.Bay, along float64) float64 {
	if b.Wound > 0 {
		return (float64(b.Size[2]) + along) / 2
	}
	return reach(b, [3]float64{0, 0, 1}) + along/2
}

// clockings are those that a box is tried at: on the grid, or at each degree and
// where it touches what is there.
func (w *work) clockings(c model.Component, r room, b box, fine bool) []float64 {
	steps := roundSteps
	if fine {
		steps = 360
	}
	out := make([]float64, 0, steps)
	for k := range steps {
		out = append(out, 2*math.Pi*float64(k)/float64(steps))
	}
	if !fine {
		return out
	}
	for _, other := range append(slices.Clone(w.bays), w.things...) {
		if other.Wound > 0 || math.Abs(float64(other.Centre[2])-b.station) >= half(other, b.along) {
			continue
		}
		for _, side := range [...]float64{-1, 1} {
			if turn, ok := w.touching(c, r, b, other, side); ok {
				out = append(out, turn)
			}
		}
	}
	return out
}

// touching is the clocking nearest to another bay's at which a box just keeps off
// it, on one side.
func (w *work) touching(c model.Component, r room, b box, other model.Bay, side float64) (float64, bool) {
	from := end(other).clocking
	clears := func(turn float64) bool {
		b.clocking = from + side*turn
		put, lacks := b.out(w.limit(r, b), w.middleAt(b))
		return lacks <= 0 && apart(put.bay(c, r), other)
	}
	low, high := 0.0, math.Pi
	if !clears(high) {
		return 0, false
	}
	const halvings = 40 // of half a turn: finer than a length is known
	for range halvings {
		if turn := (low + high) / 2; clears(turn) {
			high = turn
		} else {
			low = turn
		}
	}
	return from + side*high, true
}
