package development

import "math"

// Place is a station on a body's axis and the radius there.
type Place struct{ Station, Radius float64 }

// Point is a place on the flat paper.
type Point struct{ X, Y float64 }

// Girth is the length of a strip of paper once round a cylinder: π(D + t).
func Girth(diameter, paper float64) float64 { return math.Pi * (diameter + paper) }

// Skin is paper on a cylinder or a cone, which lead through two places. Turn and
// Station are what lies at the origin of the flat paper. The two stations must
// differ; the cone's apex must not lie between them.
type Skin struct {
	From, To Place
	Paper    float64 // thickness
	Inside   bool    // it lines the surface; else it lies round it
	Turn     float64
	Station  float64
}

// sine of half the cone's angle, positive where it narrows with the station, and
// the cosine.
func (s Skin) lean() (sin, cos float64) {
	fall, run := s.From.Radius-s.To.Radius, s.To.Station-s.From.Station
	slant := math.Hypot(fall, run)
	return fall / slant, run / slant
}

// Radius is that of the surface at a station.
func (s Skin) Radius(station float64) float64 {
	share := (station - s.From.Station) / (s.To.Station - s.From.Station)
	return s.From.Radius + share*(s.To.Radius-s.From.Radius)
}

// middle is the radius of the paper's middle that lies square to the surface at a
// station: it is a cone of the same angle.
func (s Skin) middle(station float64) float64 {
	_, cos := s.lean()
	off := s.Paper / 2 * cos
	if s.Inside {
		off = -off
	}
	return s.Radius(station) + off
}

// straight is the sine of half an angle below which a cone is a cylinder: over a
// turn of 10 m it makes less than a thousandth of a millimetre.
const straight = 1e-8

// At is where a turn and a station lie on the paper.
func (s Skin) At(turn, station float64) Point {
	sin, cos := s.lean()
	turn -= s.Turn
	up := (station - s.Station) / cos // along the surface
	r := s.middle(station)
	if math.Abs(sin) < straight {
		return Point{turn * r, up}
	}
	// About the apex: ρ·sin ψ to the side, and ρ·(1 - cos ψ) further up, for the
	// paper's middle line is at ρ0 - up from it.
	apex, half := r/sin, turn*sin/2
	return Point{apex * math.Sin(2*half), up + 2*apex*math.Sin(half)*math.Sin(half)}
}

// Back is the turn and the station of a place on the paper.
func (s Skin) Back(p Point) (turn, station float64) {
	sin, cos := s.lean()
	if math.Abs(sin) < straight {
		return s.Turn + p.X/s.middle(s.Station), s.Station + p.Y*cos
	}
	apex := s.middle(s.Station) / sin
	distance := math.Copysign(math.Hypot(p.X, apex-p.Y), apex)
	angle := math.Atan2(p.X*sign(apex), (apex-p.Y)*sign(apex)) * sign(apex)
	return s.Turn + angle/sin*sign(apex), s.Station + (apex-distance)*cos
}

func sign(x float64) float64 { return math.Copysign(1, x) }

// Straying is how far a profile lies from the straight line between its ends, over
// the stretch of a skin.
func (s Skin) Straying(profile []Place) float64 {
	_, cos := s.lean()
	most := 0.0
	for i, p := range profile {
		if p.Station >= s.From.Station && p.Station <= s.To.Station {
			most = max(most, math.Abs(p.Radius-s.Radius(p.Station))*cos)
		}
		if i == 0 {
			continue
		}
		for _, end := range [2]Place{s.From, s.To} { // between corners of the profile
			q := profile[i-1]
			if q.Station < end.Station && end.Station < p.Station {
				r := q.Radius + (end.Station-q.Station)/(p.Station-q.Station)*(p.Radius-q.Radius)
				most = max(most, math.Abs(r-end.Radius)*cos)
			}
		}
	}
	return most
}
