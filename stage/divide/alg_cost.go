package divide

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// pieceHours is what a piece between two stations costs on its best printer;
// +Inf when none takes it or it is too short to join.
func (w work) pieceHours(from, to float64, whole bool) float64 {
	if to-from < w.shortest(from, to) && !whole {
		return math.Inf(1)
	}
	best := math.Inf(1)
	for _, p := range w.printers {
		if !w.fits(p, from, to) {
			continue
		}
		best = min(best, w.volume(from, to)/rate(p)/3600)
	}
	if math.IsInf(best, 1) {
		return best
	}
	risk := best * best * failsPerHour // hours lost to a failed print, as likely as it is long
	if w.direction(from, to) == model.NoseDown {
		return best + risk + hoursAttended + hoursCollar + w.overhang(from, to, model.NoseDown)/overhangPerHour
	}
	return best + risk + hoursAttended + w.overhang(from, to, model.FootDown)/overhangPerHour
}

// shortest is the least length between two cuts: room for a socket and a core
// ring at the foot, and for a collar's socket, the deepest of joints, at the nose.
func (w work) shortest(from, to float64) float64 {
	foot := engage(unit.Length(2 * model.LowestBetween(w.raw.Outer, from, from)))
	nose := engage(unit.Length(2 * model.LowestBetween(w.raw.Outer, to, to)))
	return max(leastPiece, float64(foot+nose+ringThick+3*model.EndGap))
}

// seamHours is what a seam costs: nothing at the part's own ends.
func (w work) seamHours(at float64) float64 {
	if at <= float64(w.part.Span.From) || at >= float64(w.part.Span.To) {
		return 0
	}
	below, above := w.slopes(at)
	switch {
	case math.IsInf(below, 0) || math.IsInf(above, 0):
		return hoursAtStep
	case max(math.Abs(below), math.Abs(above)) > flank:
		return hoursOnFlank
	case math.Abs(math.Atan(below)-math.Atan(above)) > cornerTurn:
		return hoursAtCorner
	}
	return hoursPlainSeam
}

// A change of slope of 5° hides a seam a little: common practice.
const cornerTurn = 5 * math.Pi / 180

// flank is the slope dr/dz past which a piece that ends there runs out into an edge
// thinner than its wall: 50° from the axis.
const flank = 1.2

// slopes are dr/dz just below and above a station; infinite at a step.
func (w work) slopes(at float64) (below, above float64) {
	line := w.raw.Outer
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		slope := (b.Radius - a.Radius) / (b.Station - a.Station)
		switch {
		case a.Station == at && b.Station == at:
			return math.Inf(1), math.Inf(1)
		case a.Station < at && at <= b.Station:
			below = slope
		}
		if a.Station <= at && at < b.Station {
			above = slope
		}
	}
	return below, above
}

// rate is how fast a printer lays material, mm³/s: what the head can follow or
// the hot end can melt.
func rate(p model.Printer) float64 {
	return min(p.Flow, p.Speed*float64(p.Line)*float64(p.Layer))
}

// volume is the shell's: wall times the surface of the frusta. Of a solid part it
// is what its frusta hold, as far as it is filled.
func (w work) volume(from, to float64) float64 {
	v := 0.0
	line := w.raw.Outer
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		z0, z1 := max(from, a.Station), min(to, b.Station)
		if z1 < z0 || (z1 == z0 && a.Station != b.Station) {
			continue
		}
		share := 1.0
		if b.Station > a.Station {
			share = (z1 - z0) / (b.Station - a.Station)
		}
		if w.part.Wall == 0 {
			v += math.Pi / 3 * (a.Radius*a.Radius + a.Radius*b.Radius + b.Radius*b.Radius) * (b.Station - a.Station) * share * discFilled
			continue
		}
		slant := math.Hypot(b.Station-a.Station, b.Radius-a.Radius)
		v += math.Pi * (a.Radius + b.Radius) * slant * share * float64(w.part.Wall)
	}
	return v
}

// overhang is the area, seen from below, of what hangs out further than 45° in a
// print direction. A step just at the end that stands on the platform is none.
func (w work) overhang(from, to float64, d model.Direction) float64 {
	area := 0.0
	line := w.raw.Outer
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if a.Station < from || b.Station > to || a.Station == b.Station && (a.Station == from || a.Station == to) {
			continue
		}
		out := b.Radius - a.Radius
		if d == model.NoseDown {
			out = -out
		}
		if out > b.Station-a.Station {
			area += math.Pi * math.Abs(b.Radius*b.Radius-a.Radius*a.Radius)
		}
	}
	return area
}

// direction is foot down unless turning the piece over saves a real overhang and
// it has a face to stand on.
func (w work) direction(from, to float64) model.Direction {
	foot, nose := w.overhang(from, to, model.FootDown), w.overhang(from, to, model.NoseDown)
	stands := model.LowestBetween(w.raw.Outer, to, to) >= standsOn
	if w.guest && stands && from == float64(w.part.Span.From) {
		return model.NoseDown // its foot ends at a curved surface and cannot stand
	}
	if stands && foot > nose+overhangWorth {
		return model.NoseDown
	}
	return model.FootDown
}

// fits reports whether a printer takes the stretch: a round piece on its
// platform, with the spigot that may stand on it.
func (w work) fits(p model.Printer, from, to float64) bool {
	across := unit.Length(2 * model.HighestBetween(w.raw.Outer, from, to))
	at := unit.Length(2 * model.LowestBetween(w.raw.Outer, to, to))
	return across <= bed(p) && unit.Length(to-from)+engage(at) <= p.Build[2]
}

// bed is the largest circle that a printer's platform takes.
func bed(p model.Printer) unit.Length { return min(p.Build[0], p.Build[1]) - 2*p.Margin }
