package model

import (
	"math"

	"scalewright/unit"
)

// Point is a place in the half plane of a turned body: station along the axis
// and radius from it, in mm. Of the reference in a [Trace], at full size in a
// [Design].
type Point struct {
	Station float64 `json:"station_mm"`
	Radius  float64 `json:"radius_mm"`
}

// SegmentKind is line or arc.
type SegmentKind string

// Kinds of segment.
const (
	Line SegmentKind = "line"
	Arc  SegmentKind = "arc"
)

// Segment is one line or circular arc of an outline. An arc bulges away from
// its centre and is shorter than half a turn.
type Segment struct {
	Kind   SegmentKind
	From   Point
	To     Point
	Centre Point   // of an arc
	R      float64 // radius of an arc, mm
}

// Outline is the outer profile of a turned body from station to station, each
// segment beginning where the one before ended. Stations never run back; a
// step is a line at one station. The zero value is no outline.
type Outline []Segment

// Lines is the outline of straight lines through places, each given by its
// station and its radius, one after the other.
func Lines(stationRadius ...float64) Outline {
	var o Outline
	for i := 2; i+1 < len(stationRadius); i += 2 {
		o = append(o, Segment{
			Kind: Line,
			From: Point{stationRadius[i-2], stationRadius[i-1]},
			To:   Point{stationRadius[i], stationRadius[i+1]},
		})
	}
	return o
}

// Start and End are the first and last station.
func (o Outline) Start() float64 { return o[0].From.Station }

// End is the last station.
func (o Outline) End() float64 { return o[len(o)-1].To.Station }

// Scaled is the outline k times as large.
func (o Outline) Scaled(k float64) Outline {
	out := make(Outline, len(o))
	for i, s := range o {
		scale := func(p Point) Point { return Point{p.Station * k, p.Radius * k} }
		out[i] = Segment{s.Kind, scale(s.From), scale(s.To), scale(s.Centre), s.R * k}
	}
	return out
}

// Polyline is the outline with each arc replaced by chords that lie within sag
// mm of it.
func (o Outline) Polyline(sag float64) []Point {
	if len(o) == 0 {
		return nil
	}
	points := []Point{o[0].From}
	for _, s := range o {
		if s.Kind == Arc {
			points = append(points, s.chords(sag)...)
		}
		points = append(points, s.To)
	}
	return points
}

// chords are the inner points of an arc: n flats of angle 2·acos(1 - sag/R).
func (s Segment) chords(sag float64) []Point {
	from := math.Atan2(s.From.Radius-s.Centre.Radius, s.From.Station-s.Centre.Station)
	to := math.Atan2(s.To.Radius-s.Centre.Radius, s.To.Station-s.Centre.Station)
	turn := math.Remainder(to-from, 2*math.Pi)
	step := 2 * math.Acos(max(0, 1-sag/s.R))
	n := int(math.Ceil(math.Abs(turn) / step))
	var points []Point
	for i := 1; i < n; i++ {
		a := from + turn*float64(i)/float64(n)
		points = append(points, Point{s.Centre.Station + s.R*math.Cos(a), s.Centre.Radius + s.R*math.Sin(a)})
	}
	return points
}

// RadiusAt is the radius at a station: the larger one at a step, 0 outside.
func (o Outline) RadiusAt(station float64) float64 {
	largest := 0.0
	for _, s := range o {
		if station < s.From.Station || station > s.To.Station {
			continue
		}
		largest = max(largest, s.radiusAt(station))
	}
	return largest
}

func (s Segment) radiusAt(station float64) float64 {
	length := s.To.Station - s.From.Station
	switch {
	case length == 0:
		return max(s.From.Radius, s.To.Radius)
	case s.Kind == Arc:
		d := station - s.Centre.Station
		h := math.Sqrt(max(0, s.R*s.R-d*d))
		if (s.From.Radius+s.To.Radius)/2 < s.Centre.Radius {
			h = -h
		}
		return s.Centre.Radius + h
	}
	t := (station - s.From.Station) / length
	return s.From.Radius + t*(s.To.Radius-s.From.Radius)
}

// MaxRadius is the largest radius at the ends of segments and on arcs.
func (o Outline) MaxRadius() float64 {
	largest := 0.0
	for _, p := range o.Polyline(0.01) {
		largest = max(largest, p.Radius)
	}
	return largest
}

// Span is a stretch of stations at full size.
type Span struct {
	From unit.Length `json:"from_mm"`
	To   unit.Length `json:"to_mm"`
}

// Length is To - From.
func (s Span) Length() unit.Length { return s.To - s.From }

// Holds reports whether a station lies inside, ends included.
func (s Span) Holds(station unit.Length) bool { return s.From <= station && station <= s.To }
