package model

import (
	"scalewright/solid"
	"scalewright/unit"
)

// Raw is a part before anything joins it.
//
// Of a turned part: its outer profile and the profile of the cavity that leaves
// its wall, eased so that no ceiling needs support when printed with the given
// end down. Polylines, mm at full size, over the span, on the part's own axis. A
// part that is solid has no cavity.
//
// Of a flat or imported part: its solid, and the line that it is divided along.
type Raw struct {
	Part     string
	Outer    []Point
	FootDown []Point
	NoseDown []Point

	Solid  solid.Mesh // in the part's own frame: see [Part.Frame]
	Filled solid.Mesh // the same before it was hollowed; empty where it was not
	Line   OwnLine
	Least  Least // thinnest place of the solid; zero where nobody measured
}

// OwnLine is what a part that is not turned is divided along: a direction in its
// own frame, a unit vector, and where on it station 0 lies.
type OwnLine struct {
	Direction solid.Vec
	Zero      float64
	Span      Span
}

// Station of a point of the part's own frame.
func (l OwnLine) Station(p solid.Vec) float64 { return l.Direction.Dot(p) - l.Zero }

// Plane across the line at a station.
func (l OwnLine) Plane(station unit.Length) solid.Plane {
	return solid.Plane{Normal: l.Direction, Offset: float64(station) + l.Zero}
}

// Least is a thickness and the station where it is.
type Least struct {
	Thickness unit.Length
	Station   unit.Length
}

// Cavity is the cavity for a print direction.
func (r Raw) Cavity(d Direction) []Point {
	if d == NoseDown {
		return r.NoseDown
	}
	return r.FootDown
}

// LowestBetween is the least radius of a polyline between two stations; it
// counts both sides of a step. 0 where the polyline does not reach.
func LowestBetween(line []Point, from, to float64) float64 {
	lowest, seen := 0.0, false
	take := func(r float64) {
		if !seen || r < lowest {
			lowest, seen = r, true
		}
	}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if b.Station < from || a.Station > to {
			continue
		}
		take(between(a, b, max(from, a.Station)))
		take(between(a, b, min(to, b.Station)))
	}
	return lowest
}

// HighestBetween is the largest radius of a polyline between two stations,
// steps that stand just at either end left out.
func HighestBetween(line []Point, from, to float64) float64 {
	highest := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if b.Station <= from || a.Station >= to {
			continue
		}
		highest = max(highest, between(a, b, max(from, a.Station)), between(a, b, min(to, b.Station)))
	}
	return highest
}

func between(a, b Point, station float64) float64 {
	switch {
	case station <= a.Station:
		return a.Radius
	case station >= b.Station:
		return b.Radius
	}
	return a.Radius + (station-a.Station)/(b.Station-a.Station)*(b.Radius-a.Radius)
}
