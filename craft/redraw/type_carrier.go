package redraw

import (
	"math"

	"scalewright/model"
)

// Carrier is what a segment lies on: the line through P with the direction Dir, a
// unit vector, or the circle about Centre.
type Carrier struct {
	Kind   model.SegmentKind
	P, Dir model.Point
	Centre model.Point
	R      float64
}

// Of is the carrier of a segment.
func Of(s model.Segment) Carrier {
	if s.Kind == model.Arc {
		return Carrier{Kind: model.Arc, Centre: s.Centre, R: s.R}
	}
	return Through(s.From, s.To)
}

// All are the carriers of an outline, one a segment.
func All(o model.Outline) []Carrier {
	out := make([]Carrier, len(o))
	for i, s := range o {
		out[i] = Of(s)
	}
	return out
}

// Through is the line through two places; where they are one, along the axis.
func Through(a, b model.Point) Carrier {
	mid := model.Point{Station: (a.Station + b.Station) / 2, Radius: (a.Radius + b.Radius) / 2}
	run := math.Hypot(b.Station-a.Station, b.Radius-a.Radius)
	if run == 0 {
		return Carrier{Kind: model.Line, P: mid, Dir: model.Point{Station: 1}}
	}
	return Carrier{Kind: model.Line, P: mid, Dir: model.Point{Station: (b.Station - a.Station) / run, Radius: (b.Radius - a.Radius) / run}}
}

// Circle is the circle through three places; false where they lie on a line.
func Circle(a, b, c model.Point) (Carrier, bool) {
	bx, by := b.Station-a.Station, b.Radius-a.Radius
	cx, cy := c.Station-a.Station, c.Radius-a.Radius
	area := 2 * (float64(bx*cy) - float64(by*cx))
	bb, cc := float64(bx*bx)+float64(by*by), float64(cx*cx)+float64(cy*cy)
	if math.Abs(area) <= flat*(bb+cc) {
		return Carrier{}, false
	}
	ux, uy := (float64(cy*bb)-float64(by*cc))/area, (float64(bx*cc)-float64(cx*bb))/area
	return Carrier{
		Kind: model.Arc, Centre: model.Point{Station: a.Station + ux, Radius: a.Radius + uy}, R: math.Hypot(ux, uy),
	}, true
}

// flat is the sine of the angle under which three places count as on a line: a
// circle through them would be ten million times their distance.
const flat = 1e-7

// Vertical reports whether the carrier is a face square to the axis.
func (c Carrier) Vertical() bool { return c.Kind == model.Line && c.Dir.Station == 0 }

// at is the place of the carrier at a station, on the side of a circle where near
// lies; false where it does not reach the station.
func (c Carrier) at(station float64, near model.Point) (model.Point, bool) {
	if c.Kind == model.Arc {
		h := c.R*c.R - (station-c.Centre.Station)*(station-c.Centre.Station)
		if h < 0 {
			return model.Point{}, false
		}
		h = math.Sqrt(h)
		if near.Radius < c.Centre.Radius {
			h = -h
		}
		return model.Point{Station: station, Radius: c.Centre.Radius + h}, true
	}
	if c.Dir.Station == 0 {
		return model.Point{Station: station, Radius: near.Radius}, true
	}
	return model.Point{Station: station, Radius: c.P.Radius + c.Dir.Radius/c.Dir.Station*(station-c.P.Station)}, true
}

func apart(a, b model.Point) float64 { return math.Hypot(a.Station-b.Station, a.Radius-b.Radius) }

// Off is how far a place lies from the carrier.
func (c Carrier) Off(p model.Point) float64 {
	if c.Kind == model.Arc {
		return math.Abs(apart(p, c.Centre) - c.R)
	}
	return math.Abs(float64((p.Station-c.P.Station)*-c.Dir.Radius) + float64((p.Radius-c.P.Radius)*c.Dir.Station))
}
