package structure

import (
	"math"

	"scalewright/craft/beam"
	"scalewright/model"
	"scalewright/unit"
)

// coreName is what the core is called among the weights.
const coreName = "core"

// weights are prints, core, components and finish, each with its middle.
func (in Input) weights() []model.Weight {
	var out []model.Weight
	prints := 0.0
	var middle [3]float64
	for i, p := range in.Prints {
		grams := float64(p.Grams)
		if grams == 0 {
			continue
		}
		centre := [3]float64(in.Carved[i].Solid.Centroid())
		out = append(out, model.Weight{Name: in.Division.Pieces[i].Name, Mass: unit.Estimate(grams, printDoubt*grams), Centre: centre})
		prints += grams
		for k := range middle {
			middle[k] += grams * centre[k]
		}
	}
	if prints > 0 && in.Finish.Grade != model.Unfinished && in.Finish.Grade != "" {
		for k := range middle {
			middle[k] /= prints
		}
		out = append(out, model.Weight{Name: "primer, filler and paint", Mass: unit.Estimate(finishShare*prints, finishDoubt*prints), Centre: middle})
	}
	if in.Core != nil {
		long := float64(in.Core.Span.Length())
		// mm³ · g/cm³ / 1000 = g.
		grams := tube(*in.Core).Area() * long * in.Core.Stock.Density / 1000
		if in.Core.Stock.OD > 2*in.Core.Stock.Wall {
			grams *= wallsRun
		}
		out = append(out, model.Weight{
			Name: coreName, Mass: unit.Estimate(grams, coreDoubt*grams), Centre: [3]float64{0, 0, float64(in.Core.Span.From) + long/2},
		})
	}
	for _, c := range in.Components {
		if c.Service == model.Outside {
			continue
		}
		grams := componentGrams(c)
		out = append(out, model.Weight{Name: c.ID, Mass: unit.Estimate(grams, grams/4), Centre: in.componentAt(c)})
	}
	return out
}

// componentGrams is a component's mass: of a power bank by its energy, some 190
// Wh a kilogram as sold (ten makers' data lie between 150 and 220, common
// practice); of a strip a gram a pixel.
func componentGrams(c model.Component) float64 {
	const bankWattHours, pixel = 190.0, 1.0
	switch {
	case c.Kind.WattHours > 0:
		return 1000 * c.Kind.WattHours / bankWattHours
	case c.Pixels > 0:
		return pixel * float64(c.Pixels)
	}
	return componentMass
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

// post is the stand's post: its section, and its mass from the base into the
// core.
func post(s model.Stand, start float64) (section beam.Section, grams float64) {
	od := float64(s.Post.OD)
	section = beam.Section{Outside: od, Bore: max(0, od-2*float64(s.Post.Wall))}
	long := float64(s.Below) + start + float64(s.Engage)
	return section, section.Area() * long * s.Post.Density / 1000
}

// base is the stand's base and its ballast, g.
func base(s model.Stand) float64 {
	across := float64(s.Across)
	area := math.Pi * across * across / 4
	if s.Square {
		area = across * across
	}
	return area*float64(s.Thick)*s.Density/1000 + float64(s.Ballast)
}
