package place

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// ways runs each wire from bay to bay in one duct: in from the first bay, round to
// the duct's clocking, along it, and round and out to the other. The duct lies
// half way between what stands in the middle and the wall, so that one hole a core
// ring takes all cables.
func (w *work) ways(p model.Places) []model.Way {
	duct := w.duct(p)
	var out []model.Way
	for _, wire := range w.wires {
		from, inside := p.Bay(wire.From)
		to, also := p.Bay(wire.To)
		switch {
		case inside && also:
			out = append(out, w.way(wire, end(from), end(to), duct))
		case inside:
			out = append(out, w.way(wire, end(from), w.outside(duct), duct))
		case also:
			out = append(out, w.way(wire, w.outside(duct), end(to), duct))
		}
	}
	return out
}

// end of a way.
type spot struct{ station, clocking, radius float64 }

func end(b model.Bay) spot {
	if b.Wound > 0 {
		return spot{float64(b.Centre[2]), 0, float64(b.Wound) - float64(b.Size[0])}
	}
	x, y := float64(b.Centre[0]), float64(b.Centre[1])
	return spot{float64(b.Centre[2]), math.Atan2(y, x), math.Hypot(x, y)}
}

// outside is where a lead leaves the build: in the duct, at its foot.
func (w *work) outside(duct float64) spot {
	lowest := math.Inf(1)
	for _, p := range w.Design.Parts {
		if p.OnBody() {
			lowest = math.Min(lowest, float64(p.Span.From))
		}
	}
	return spot{lowest, duct, w.radiusAt(lowest)}
}

// duct is the clocking of the run along the axis: off the tongues and ledges, and
// near to what it joins.
func (w *work) duct(p model.Places) float64 {
	best, cost := 0.0, math.Inf(1)
	for k := range roundSteps {
		// Half a step off the usual clockings, where fins and openings are.
		c := 2 * math.Pi * (float64(k) + 0.5) / roundSteps
		sum := 0.0
		for _, b := range p.Bays {
			if b.Wound == 0 {
				sum += math.Abs(math.Remainder(c-end(b).clocking, 2*math.Pi))
			}
		}
		for _, t := range w.Division.Tabs {
			if near := math.Abs(math.Remainder(c-t.Clocking, 2*math.Pi)); near < math.Pi/roundSteps*1.5 {
				sum += crowded
			}
		}
		if sum < cost {
			best, cost = c, sum
		}
	}
	return best
}

// crowded is what a tongue beside the duct costs, rad of way round.
const crowded = 10.0

// radiusAt is the duct's distance from the axis.
func (w *work) radiusAt(station float64) float64 {
	wall := w.wallAt(station)
	inner := math.Min(wall, w.middle(room{from: station - 0.5, to: station + 0.5}))
	return (inner + wall) / 2
}

// wallAt is the radius inside at a station: the cavity's, and in a joint what the
// spigot or collar leaves.
func (w *work) wallAt(station float64) float64 {
	least := math.Inf(1)
	for i, part := range w.Design.Parts {
		if !part.OnBody() || station < float64(part.Span.From)-1 || station > float64(part.Span.To)+1 {
			continue
		}
		for _, d := range [...]model.Direction{model.FootDown, model.NoseDown} {
			at := math.Min(math.Max(station, float64(part.Span.From)), float64(part.Span.To))
			if r := model.LowestBetween(w.Raw[i].Cavity(d), at-1, at+1); r > 0 {
				least = math.Min(least, r)
			}
		}
		for _, s := range w.Division.Seams {
			if (s.Below.Part == part.ID || s.Above.Part == part.ID) && !s.Flat() && math.Abs(station-float64(s.Station)) <= float64(s.Engage)+2*float64(model.RootDeep) {
				inside := model.LowestBetween(w.Raw[i].FootDown, math.Max(float64(part.Span.From), float64(s.Station-s.Engage)), math.Min(float64(part.Span.To), float64(s.Station+s.Engage)))
				least = math.Min(least, inside-float64(part.Wall)-clear)
			}
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return math.Max(0, least)
}

// stride is how finely a way follows the wall, mm.
const stride = 2.0

// run is a way being laid.
type run struct {
	path [][3]unit.Length
	long float64
}

func (r *run) to(station, clocking, radius float64) {
	sin, cos := math.Sincos(clocking)
	p := [3]unit.Length{unit.Length(radius * cos), unit.Length(radius * sin), unit.Length(station)}
	if n := len(r.path); n > 0 {
		r.long += distance(r.path[n-1], p)
	}
	r.path = append(r.path, p)
}

// round goes to another clocking at one station.
func (r *run) round(station, from, to, radius float64) {
	turn := math.Remainder(to-from, 2*math.Pi)
	steps := int(math.Ceil(math.Abs(turn) / (math.Pi / 36)))
	for k := 1; k <= steps; k++ {
		r.to(station, from+turn*float64(k)/float64(steps), radius)
	}
}

func (w *work) way(wire model.Wire, a, b spot, duct float64) model.Way {
	var r run
	r.to(a.station, a.clocking, a.radius)
	radius := w.radiusAt(a.station)
	r.to(a.station, a.clocking, radius)
	r.round(a.station, a.clocking, duct, radius)
	n := int(math.Ceil(math.Abs(b.station-a.station) / stride))
	for k := 1; k <= n; k++ {
		z := a.station + (b.station-a.station)*float64(k)/float64(n)
		next := w.radiusAt(z)
		last := a.station + (b.station-a.station)*float64(k-1)/float64(n)
		// Where the wall steps, along at the smaller radius.
		if next < radius {
			r.to(last, duct, next)
		} else {
			r.to(z, duct, radius)
		}
		r.to(z, duct, next)
		radius = next
	}
	r.round(b.station, duct, b.clocking, radius)
	r.to(b.station, b.clocking, b.radius)
	return model.Way{
		Wire: wire.ID, From: wire.From, To: wire.To, Path: r.path,
		Length: unit.Length(math.Ceil((r.long*(1+slackShare)+slackLoop)/10) * 10),
		Passes: w.passes(a.station, b.station, duct),
	}
}

func distance(a, b [3]unit.Length) float64 {
	return math.Sqrt(math.Pow(float64(a[0]-b[0]), 2) + math.Pow(float64(a[1]-b[1]), 2) + math.Pow(float64(a[2]-b[2]), 2))
}

// passes are the holes that a way needs in core rings, each on the duct.
func (w *work) passes(from, to, duct float64) []model.Pass {
	var out []model.Pass
	low, high := math.Min(from, to), math.Max(from, to)
	for _, s := range w.Division.Seats {
		if float64(s.Span.To) < low || float64(s.Span.From) > high {
			continue
		}
		at := (float64(s.Span.From) + float64(s.Span.To)) / 2
		radius := w.radiusAt(at)
		// Of material it leaves as much to the core's side as to the rim.
		across := math.Min(passWide, 2*(w.wallAt(at)-radius-passEdge))
		out = append(out, model.Pass{
			Piece: s.Ring, Station: s.Span.From, Clocking: duct, Radius: unit.Length(radius), Across: unit.Length(math.Max(across, passLeast)),
		})
	}
	for _, d := range w.discs() {
		if d.to < low || d.from > high {
			continue
		}
		at := (d.from + d.to) / 2
		radius := w.radiusAt(at)
		if radius < d.outer && radius > d.inner {
			out = append(out, model.Pass{
				Piece: d.piece, Station: unit.Length(d.from), Clocking: duct, Radius: unit.Length(radius), Across: passLeast,
			})
		}
	}
	return out
}

// disc is a part of its own that lies square across the build's axis inside it.
type disc struct {
	piece        model.PieceID
	from, to     float64
	inner, outer float64
}

// discs are the parts turned round an axis of their own that is the build's too.
func (w *work) discs() []disc {
	var out []disc
	for i, part := range w.Design.Parts {
		d, p := part.Axis.Direction, part.Axis.Position
		if part.OnBody() || part.Form == model.Flat || part.Form == model.Imported || d[0] != 0 || d[1] != 0 || p[0] != 0 || p[1] != 0 {
			continue
		}
		for _, piece := range w.Division.Pieces {
			if piece.ID.Part != part.ID {
				continue
			}
			from, to := float64(p[2])+d[2]*float64(piece.Span.From), float64(p[2])+d[2]*float64(piece.Span.To)
			out = append(out, disc{
				piece: piece.ID, from: math.Min(from, to), to: math.Max(from, to), inner: float64(part.Bore) / 2,
				outer: model.HighestBetween(w.Raw[i].Outer, float64(piece.Span.From), float64(piece.Span.To)),
			})
		}
	}
	return out
}

// passLeast lets three thin wires through, mm.
const passLeast = 6.0
