package structure

import (
	"scalewright/craft/bush"
	"scalewright/model"
	"scalewright/unit"
)

// weights are prints, finish, core and components, each with its middle.
func (in Input) weights() []model.Weight {
	out := in.prints()
	total, middle := together(out)
	if prints := total.X; prints > 0 && in.Finish.Grade != model.Unfinished && in.Finish.Grade != "" {
		out = append(out, model.Weight{
			Name: "primer, filler and paint", Kind: model.FinishWeight, Centre: middle, Span: model.Span{To: in.Length},
			Mass: unit.Estimate(finishShare*prints, finishDoubt*prints),
		})
	}
	if in.Core != nil {
		span := in.Core.Span
		// mm³ · g/cm³ / 1000 = g.
		grams := tube(*in.Core).Area() * float64(span.Length()) * in.Core.Stock.Density / 1000
		if !in.Core.Stock.Rod() {
			grams *= bush.WallsRun
		}
		out = append(out, model.Weight{
			Name: "core", Kind: model.CoreWeight, Mass: unit.Estimate(grams, coreDoubt*grams),
			Centre: [3]float64{0, 0, float64(span.From+span.To) / 2}, Span: span,
		})
	}
	for _, c := range in.Components {
		if c.Service == model.Outside {
			continue
		}
		grams, at := componentGrams(c), in.componentAt(c)
		out = append(out, model.Weight{
			Name: c.ID, Kind: model.ComponentWeight, Mass: unit.Estimate(grams, bought*grams), Centre: at,
			Span: model.Span{From: unit.Length(at[2]), To: unit.Length(at[2])},
		})
	}
	return out
}

// prints are the pieces as laid down. What makes one print heavier than computed,
// wide lines and the filament's density, makes all so: their doubt is shared.
func (in Input) prints() []model.Weight {
	var out []model.Weight
	for i, p := range in.Prints {
		grams := float64(p.Grams)
		if grams == 0 {
			continue
		}
		body := in.Carved[i].Solid
		box := body.Bounds()
		out = append(out, model.Weight{
			Name: in.Division.Pieces[i].Name, Kind: model.PrintWeight, Centre: body.Centroid(),
			Mass: unit.Estimate(grams, 0, unit.Source{Name: "mass of prints", U: printDoubt * grams}),
			Span: model.Span{From: unit.Length(box.Min[2]), To: unit.Length(box.Max[2])},
		})
	}
	return out
}

// componentGrams is a component's mass by the table; of a strip, all its pixels'.
func componentGrams(c model.Component) float64 {
	grams := float64(c.Kind.Grams)
	if c.Pixels > 0 {
		grams *= float64(c.Pixels)
	}
	return grams
}

// componentAt is where a component lies: its bay, else the place wished for, else
// the middle of its part.
func (in Input) componentAt(c model.Component) [3]float64 {
	if b, ok := in.Places.Bay(c.ID); ok {
		return [3]float64{float64(b.Centre[0]), float64(b.Centre[1]), float64(b.Centre[2])}
	}
	station := c.Station
	for _, p := range in.Parts {
		if p.ID == c.Part && !c.Placed {
			station = (p.Span.From + p.Span.To) / 2
		}
	}
	return [3]float64{0, 0, float64(station)}
}

// together is the sum of weights and their common middle.
func together(weights []model.Weight) (unit.Value, [3]float64) {
	total := unit.Exact(0)
	var centre [3]float64
	for _, w := range weights {
		total = total.Add(w.Mass)
		for k := range centre {
			centre[k] += w.Mass.X * w.Centre[k]
		}
	}
	if total.X > 0 {
		for k := range centre {
			centre[k] /= total.X
		}
	}
	return total, centre
}
