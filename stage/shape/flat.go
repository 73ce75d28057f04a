package shape

import (
	"errors"
	"fmt"
	"slices"

	"scalewright/craft/platform"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// flat is the prism over a closed outline. It is divided along the longer side of
// the least rectangle round it.
func flat(part model.Part) (model.Raw, finding.List, error) {
	raw := model.Raw{Part: part.ID, Least: model.Least{Thickness: part.Plate.Thick}}
	region := solid.Region{Outer: loop(part.Plate.Outer, true)}
	for _, hole := range part.Plate.Holes {
		region.Holes = append(region.Holes, loop(hole, false))
	}
	mesh, err := solid.Prism(region, 0, float64(part.Plate.Thick))
	var bad *solid.LoopError
	if errors.As(err, &bad) {
		return raw, finding.List{badOutline(part, troubles[bad.Fault], bad.At[0], bad.At[1])}, nil
	}
	if err != nil {
		return raw, nil, fmt.Errorf("extrude %s: %w", part.ID, err)
	}
	raw.Solid = mesh
	way := platform.LongSide(platform.Hull(region.Outer))
	raw.Line = lineOf(mesh, solid.Vec{way[0], way[1], 0})
	raw.Least.Station = raw.Line.Span.From
	return raw, nil, nil
}

// lineOf lays a line along a solid; station 0 is where the solid begins.
func lineOf(m solid.Mesh, direction solid.Vec) model.OwnLine {
	least, most := direction.Dot(m.Vertices[0]), direction.Dot(m.Vertices[0])
	for _, p := range m.Vertices {
		least, most = min(least, direction.Dot(p)), max(most, direction.Dot(p))
	}
	return model.OwnLine{Direction: direction, Zero: least, Span: model.Span{To: unit.Length(most - least)}}
}

// loop is a closed outline as points, arcs chorded, anticlockwise or clockwise
// whichever way it was typed.
func loop(o model.Outline, anticlockwise bool) []solid.Point {
	var out []solid.Point
	for _, p := range o.Polyline(chordSag) {
		out = append(out, solid.Point{p.Station, p.Radius})
	}
	if n := len(out); n > 1 && out[0] == out[n-1] {
		out = out[:n-1]
	}
	out = slices.Compact(out)
	if (area(out) > 0) != anticlockwise {
		slices.Reverse(out)
	}
	return out
}

// area is twice the signed area, positive anticlockwise (Gauss).
func area(loop []solid.Point) float64 {
	twice := 0.0
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		twice += float64(p[0]*q[1]) - float64(q[0]*p[1])
	}
	return twice
}

// troubles are a loop's faults in words. The way round was put right before.
var troubles = map[solid.LoopFault]string{
	solid.TooFewPoints:   "encloses nothing",
	solid.PointNotFinite: "has a point that is no number",
	solid.RepeatedPoint:  "repeats a point",
	solid.FoldedBack:     "folds back on itself",
	solid.Crossing:       "crosses or touches itself, or one of its holes",
	solid.WrongWay:       "encloses nothing, or a hole lies outside it",
}
