package divide

import (
	"math"

	"scalewright/craft/fastening"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// screwed gives a panel the largest screws whose heads lie in its sheet; false,
// with the least wall, where the wall is too thin for any.
func screwed(w *model.Window, host work, piece model.Piece) (least unit.Length, ok bool) {
	o := w.Opening
	rise := float64(o.High/2 - model.LedgeWide/2)
	least = unit.Length(math.Inf(1))
	for _, f := range stock.FastenersFor(stock.Screw) {
		if fastening.Needs(f) > model.LedgeWide/2 {
			continue
		}
		var heads, sheets [2]unit.Length
		for i, z := range [2]float64{float64(o.Station) - rise, float64(o.Station) + rise} {
			heads[i] = unit.Length(fastening.Under(host.raw.Outer, z, float64(f.Head()))) - fastening.Sunk
			sheets[i] = heads[i] - unit.Length(model.HighestBetween(host.raw.Cavity(piece.Direction), z-float64(f.Head())/2, z+float64(f.Head())/2))
		}
		missing := f.Cone() + fastening.UnderHead - min(sheets[0], sheets[1])
		long, reaches := fastening.Held(f, max(sheets[0], sheets[1]), host.part.Wall)
		if missing <= 0 && reaches {
			w.Screw, w.Long, w.Heads = f, long, heads
			return 0, true
		}
		least = min(least, host.part.Wall+max(0, missing))
	}
	return unit.Length(math.Ceil(float64(least)*10) / 10), false
}

// fastenings are the pins, screws and magnets of mounts.
func fastenings(in Input, d model.Division) ([]model.Fastening, finding.List) {
	var out []model.Fastening
	var found finding.List
	for _, m := range in.Mounts {
		use, ok := usesOf[m.Kind]
		if !ok {
			continue
		}
		holds, said := hold(in, d, m, use)
		out = append(out, holds...)
		found.Add(said...)
	}
	return out, found
}

// usesOf are the kinds of joint that take something bought, and what.
var usesOf = map[model.JointKind]stock.FastenerUse{
	model.Dowelled: stock.Pin, model.Screwed: stock.Screw, model.Magnet: stock.Magnet,
}
