package model

// Raw is a part before anything joins it: its outer profile and the profile of
// the cavity that leaves its wall, eased so that no ceiling needs support when
// printed with the given end down. Polylines, mm at full size, over the span.
type Raw struct {
	Part     string
	Outer    []Point
	FootDown []Point
	NoseDown []Point
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
