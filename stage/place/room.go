package place

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// room is the ring of space inside one shell between what blocks it: from a
// station to another, and how far out and in at each station between.
type room struct {
	piece    model.Piece
	part     string
	from, to float64
	cavity   []model.Point
	inner    float64 // what stands in the middle, with clearance
	reached  []string
}

// rooms are the compartments of every hollow shell of the body.
func (in Input) rooms() []room {
	var out []room
	for i, part := range in.Design.Parts {
		if !part.OnBody() {
			continue
		}
		for _, p := range in.Division.Pieces {
			if p.ID.Kind != model.Shell || p.ID.Part != part.ID || in.Design.Core != nil && in.Design.Core.Hold == model.Bored && in.onCore(p) {
				continue
			}
			out = append(out, in.roomsOf(p, in.Raw[i])...)
		}
	}
	for i := range out {
		out[i].reached = in.leading(out, i)
	}
	return out
}

func (in Input) onCore(p model.Piece) bool {
	return p.Span.From < in.Design.Core.Span.To && p.Span.To > in.Design.Core.Span.From
}

// roomsOf divides a shell by its core rings and keeps its joints free.
func (in Input) roomsOf(p model.Piece, raw model.Raw) []room {
	from, to := float64(p.Span.From), float64(p.Span.To)
	for _, s := range in.Division.Seams {
		deep := float64(s.Engage + model.EndGap)
		switch {
		case s.Above == p.ID && s.Stands(p.ID):
			from = max(from, float64(p.Span.From)+2*float64(model.RootDeep))
		case s.Above == p.ID:
			from = max(from, float64(p.Span.From)+deep)
		case s.Below == p.ID && s.Stands(p.ID):
			to = min(to, float64(p.Span.To)-2*float64(model.RootDeep))
		case s.Below == p.ID:
			to = min(to, float64(p.Span.To)-deep)
		}
	}
	stops := []float64{from}
	for _, s := range in.Division.Seats {
		if s.Host == p.ID {
			stops = append(stops, float64(s.Span.From), float64(s.Span.To))
		}
	}
	stops = append(stops, to)
	var out []room
	for k := 0; k+1 < len(stops); k += 2 {
		r := room{piece: p, part: p.ID.Part, from: stops[k] + clear, to: stops[k+1] - clear, cavity: raw.Cavity(p.Direction)}
		if r.to-r.from < alongStep {
			continue
		}
		r.inner = in.middle(r)
		out = append(out, r)
	}
	return out
}

// middle is how far out the core, or the stand's post, keeps a room free.
func (in Input) middle(r room) float64 {
	inner := 0.0
	if c := in.Design.Core; c != nil && float64(c.Span.From) < r.to && float64(c.Span.To) > r.from {
		inner = float64(c.Stock.Widest())/2 + clear
	} else if s := in.Design.Stand; s != nil && (c == nil || r.from < float64(c.Span.From)) {
		inner = float64(s.Post.Widest())/2 + clear
	}
	return inner
}

// leading are the openings with panels and the loose joints that lead into a room:
// an opening in it, and what its open ends meet where nothing blocks them.
func (in Input) leading(all []room, i int) []string {
	var out []string
	r := all[i]
	for _, w := range in.Division.Windows {
		at := float64(w.Opening.Station)
		if w.Piece == r.piece.ID && w.Opening.Panel && r.from < at && at < r.to {
			out = append(out, w.Opening.ID)
		}
	}
	for _, s := range in.Division.Seams {
		if !s.Removable {
			continue
		}
		first, last := true, true // the room of its piece nearest to an end
		for _, q := range all {
			if q.piece.ID == r.piece.ID {
				first, last = first && q.from >= r.from, last && q.from <= r.from
			}
		}
		if s.Above == r.piece.ID && first || s.Below == r.piece.ID && last {
			out = append(out, s.ID)
		}
	}
	return out
}

// outerAt is the least radius of the wall over a stretch.
func (r room) outerAt(from, to float64) float64 { return model.LowestBetween(r.cavity, from, to) }

// box is a bay being tried: its middle and its size along the axis, round it and
// along the radius.
type box struct {
	station, clocking, radius float64
	along, round, deep        float64
	lengthRound               bool // the component's length runs round the axis
}

// against lies as far out as the wall lets it; false where the middle is in the
// way.
func (r room) against(station, clocking, along, round, deep, less float64) (box, bool) {
	b := box{station: station, clocking: clocking, along: along, round: round, deep: deep}
	if station-along/2 < r.from || station+along/2 > r.to {
		return b, false
	}
	outer := r.outerAt(station-along/2, station+along/2) - clear - less
	if outer <= round/2 {
		return b, false
	}
	b.radius = math.Sqrt(outer*outer-round*round/4) - deep/2
	return b, b.radius-deep/2 >= r.inner
}

// bay is the box as the build has it.
func (b box) bay(c model.Component, r room) model.Bay {
	sin, cos := math.Sincos(b.clocking)
	axial, radial, tangent := [3]float64{0, 0, 1}, [3]float64{cos, sin, 0}, [3]float64{-sin, cos, 0}
	out := model.Bay{
		Component: c.ID, Part: r.part, Piece: r.piece.ID, Reached: r.reached,
		Centre: [3]unit.Length{unit.Length(b.radius * cos), unit.Length(b.radius * sin), unit.Length(b.station)},
		Axes:   [3][3]float64{axial, tangent, radial},
		Size:   [3]unit.Length{unit.Length(b.along), unit.Length(b.round), unit.Length(b.deep)},
	}
	if b.lengthRound {
		out.Axes[0], out.Axes[1] = tangent, axial
		out.Size[0], out.Size[1] = out.Size[1], out.Size[0]
	}
	return out
}
