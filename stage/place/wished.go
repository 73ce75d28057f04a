package place

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
)

// wished puts a component where its maker wants it, in the first position that
// fits; else it says what is in the way, by how much, and the nearest place that is
// free.
func (w *work) wished(c model.Component) (model.Bay, finding.List) {
	least := math.Inf(1)
	var code finding.Code
	var args finding.Args
	for _, l := range lies {
		b := stand(c, l)
		b.station, b.clocking = float64(c.Station), c.Clocking
		for _, r := range w.all {
			if r.part != c.Part {
				continue
			}
			if b.over(r) {
				if bay, ok := w.fits(c, r, b); ok {
					return bay, nil
				}
			}
			if why, by, much := w.trouble(c, r, b); much < least {
				code, least = why, much
				args = finding.Args{"much": finding.Size(much)}
				if by != "" {
					args["by"] = finding.Name(by)
				}
			}
		}
	}
	other, ok := w.search(c, func(_ model.Component, b model.Bay) float64 {
		at := end(b)
		return math.Hypot(at.station-float64(c.Station), at.radius*math.Remainder(at.clocking-c.Clocking, 2*math.Pi))
	})
	if !ok || math.IsInf(least, 1) {
		return model.Bay{}, w.noRoom(c)
	}
	at, size := end(other), sizeOf(c)
	args["component"], args["to"], args["turn"] = finding.Name(c.ID), finding.Long(at.station), degrees(at.clocking)
	args["long"], args["wide"], args["high"] = finding.Size(size[0]), finding.Size(size[1]), finding.Size(size[2])
	return model.Bay{}, finding.List{finding.New(code, c.At, args).About(c.Part).AtStation(c.Station)}
}

// trouble is what is in the way of a box in a room, by name, and by how much, mm.
func (w *work) trouble(c model.Component, r room, b box) (finding.Code, string, float64) {
	low, high := r.from-(b.station-b.along/2), b.station+b.along/2-r.to
	if low > 0 || high > 0 {
		by := r.bounds[0]
		if high > low {
			by = r.bounds[1]
		}
		return "place-blocked", by, math.Max(low, 0) + math.Max(high, 0)
	}
	put, lacks := b.out(w.limit(r, b), w.middleAt(b))
	if lacks > 0 {
		return "place-narrow", "", lacks
	}
	bay := put.bay(c, r)
	other, _ := w.free(bay)
	return "place-taken", other.Component, shared(bay, other)
}

// degrees of a clocking, whole, from 0 to 359.
func degrees(clocking float64) finding.Number {
	return finding.Number(math.Mod(math.Round(clocking*180/math.Pi)+360, 360))
}
