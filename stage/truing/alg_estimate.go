package truing

import (
	"math"
	"strings"

	"scalewright/model"
	"scalewright/unit"
)

const (
	// Neighbouring stations of a photograph share edge points: some three carry the
	// news of one (measure's own figure).
	independent = 3.0
	// Readings of a profile blend both sides of a corner so near to it, mm.
	blend = 0.75
	// Least noise of a station, mm, that sums are weighted with.
	floor = 0.001
)

// estimate is a line as its stations have it: the radius at their middle and the
// slope, each with its doubt and the causes of it.
type estimate struct {
	middle float64
	radius unit.Value
	slope  unit.Value
	seen   bool // in a photograph
}

// estimateOf is the estimate of a segment that is no step.
func estimateOf(t model.Trace, s model.Segment) estimate {
	points := within(t, s)
	e := estimate{middle: (s.From.Station + s.To.Station) / 2}
	run := s.To.Station - s.From.Station
	x, slope := (model.Outline{s}).RadiusAt(e.middle), (s.To.Radius-s.From.Radius)/run
	for _, p := range points {
		e.seen = e.seen || photographed(p.Radius)
	}
	if len(points) < 2 || !e.seen {
		u := 0.0
		for _, p := range points {
			u = max(u, p.Radius.U)
		}
		// A typed radius is off alike all along; how its two ends differ is as unsure
		// as two readings.
		e.radius, e.slope = unit.Estimate(x, u), unit.Estimate(slope, math.Sqrt2*u/run)
		return e
	}
	var sw, sws float64
	weight := func(p model.TracePoint) float64 {
		own := max(floor, p.Radius.Independent())
		return 1 / (own * own)
	}
	for _, p := range points {
		w := weight(p)
		sw, sws = sw+w, sws+w*p.Station
	}
	e.middle = sws / sw
	x = (model.Outline{s}).RadiusAt(e.middle)
	sxx := 0.0
	for _, p := range points {
		d := p.Station - e.middle
		sxx += weight(p) * d * d
	}
	var ofRadius, ofSlope []unit.Source
	for _, p := range points {
		w, d := weight(p), p.Station-e.middle
		for _, c := range p.Radius.Sources {
			ofRadius = append(ofRadius, unit.Source{Name: c.Name, U: w / sw * c.U})
			ofSlope = append(ofSlope, unit.Source{Name: c.Name, U: w * d / sxx * c.U})
		}
	}
	e.radius = unit.Estimate(x, math.Sqrt(independent/sw), ofRadius...)
	e.slope = unit.Estimate(slope, math.Sqrt(independent/sxx), ofSlope...)
	return e
}

// photographed reports whether a radius shares a cause with others besides the offsets
// that readings give the segments of any outline (stage/readings): a typed one doesn't.
func photographed(v unit.Value) bool {
	for _, s := range v.Sources {
		if !strings.HasPrefix(s.Name, "outline: ") {
			return true
		}
	}
	return false
}

// within are the points of the profile over a segment, clear of its corners.
func within(t model.Trace, s model.Segment) []model.TracePoint {
	from, to := s.From.Station+blend, s.To.Station-blend
	if from >= to {
		from, to = s.From.Station, s.To.Station
	}
	var out []model.TracePoint
	for _, p := range t.Profile {
		if from <= p.Station && p.Station <= to {
			out = append(out, p)
		}
	}
	return out
}

// placed is the doubt of the station of a step: it was drawn between two stations of
// the profile, anywhere (a rectangle: JCGM 100:2008, 4.3.7); a typed one as typed.
func placed(t model.Trace, station float64) float64 {
	p := t.Profile
	if len(p) < 2 {
		return 0
	}
	best := 0
	for k := range p {
		if math.Abs(p[k].Station-station) < math.Abs(p[best].Station-station) {
			best = k
		}
	}
	if !photographed(p[best].Radius) {
		return p[best].Radius.U
	}
	gap := (p[min(best+1, len(p)-1)].Station - p[max(best-1, 0)].Station) / 2
	return gap / math.Sqrt(12)
}

// step reports whether a segment is a face square to the axis.
func step(s model.Segment) bool { return s.From.Station == s.To.Station }

// steep reports whether a line is nearly square to the axis but not quite.
func steep(s model.Segment) bool {
	const times = 5 // 11°
	return s.Kind == model.Line && !step(s) && math.Abs(s.To.Radius-s.From.Radius) > times*(s.To.Station-s.From.Station)
}

// lengthwise reports whether a line runs along the axis.
func lengthwise(s model.Segment) bool { return s.Kind == model.Line && !step(s) && !steep(s) }

func length(s model.Segment) float64 {
	return math.Hypot(s.To.Station-s.From.Station, s.To.Radius-s.From.Radius)
}

// slopeAt is the direction of a segment at one of its ends, as an angle from the
// axis, rad.
func slopeAt(s model.Segment, p model.Point) float64 {
	if s.Kind == model.Line {
		return math.Atan2(s.To.Radius-s.From.Radius, s.To.Station-s.From.Station)
	}
	a := math.Atan2(p.Radius-s.Centre.Radius, p.Station-s.Centre.Station) + math.Pi/2
	chord := math.Atan2(s.To.Radius-s.From.Radius, s.To.Station-s.From.Station)
	if math.Abs(math.Remainder(a-chord, 2*math.Pi)) > math.Pi/2 {
		a += math.Pi
	}
	return math.Remainder(a, 2*math.Pi)
}
