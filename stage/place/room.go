package place

import (
	"math"

	"scalewright/model"
)

// room is the ring of space inside one shell between what blocks it: from a
// station to another, and how far out and in at each station between.
type room struct {
	piece    model.Piece
	part     string
	from, to float64
	bounds   [2]string // what blocks it below and above, by name
	cavity   []model.Point
	necks    []neck
	inner    float64   // what stands in the middle, with clearance
	mouths   []mouth   // joints that come apart at its ends
	windows  []opening // through its wall
}

// mouth is an end of a room where a joint comes apart.
type mouth struct {
	joint               string
	station             float64
	inner, outer, depth float64 // between which radii a thing passes; how deep the joint is
}

// opening is a hole through a room's wall that a hand may use.
type opening struct {
	model.Window
	wide, high float64 // clear, the width measured straight; of a round one its diameter twice
	round      bool
	depth      float64 // from the wall to what stands in the middle
}

// rooms are the compartments of every hollow shell of the body.
func (in Input) rooms() []room {
	var out []room
	necks := in.necks()
	for i, part := range in.Design.Parts {
		if !part.OnBody() {
			continue
		}
		for _, p := range in.Division.Pieces {
			if p.ID.Kind != model.Shell || p.ID.Part != part.ID || in.Design.Core != nil && in.Design.Core.Hold == model.Bored && in.onCore(p) {
				continue
			}
			out = append(out, in.roomsOf(p, in.Raw[i], necks)...)
		}
	}
	return out
}

func (in Input) onCore(p model.Piece) bool {
	return p.Span.From < in.Design.Core.Span.To && p.Span.To > in.Design.Core.Span.From
}

// roomsOf divides a shell by its core rings and keeps its joints free.
func (in Input) roomsOf(p model.Piece, raw model.Raw, necks []neck) []room {
	from, to := float64(p.Span.From), float64(p.Span.To)
	below, above := p.ID.Part, p.ID.Part
	var foot, nose *model.Seam
	for i, s := range in.Division.Seams {
		deep := float64(s.Engage + model.EndGap)
		if s.Stands(p.ID) {
			deep = float64(model.RootDeep) // what it stands in has the rest
		}
		switch p.ID {
		case s.Above:
			from, below, foot = max(from, float64(p.Span.From)+deep), s.ID, &in.Division.Seams[i]
		case s.Below:
			to, above, nose = min(to, float64(p.Span.To)-deep), s.ID, &in.Division.Seams[i]
		}
	}
	stops, names := []float64{from}, []string{below}
	for _, s := range in.Division.Seats {
		if s.Host == p.ID {
			stops = append(stops, float64(s.Span.From), float64(s.Span.To))
			names = append(names, in.nameOf(s.Ring), in.nameOf(s.Ring))
		}
	}
	stops, names = append(stops, to), append(names, above)
	var out []room
	for k := 0; k+1 < len(stops); k += 2 {
		r := room{
			piece: p, part: p.ID.Part, from: stops[k] + clear, to: stops[k+1] - clear,
			bounds: [2]string{names[k], names[k+1]}, cavity: raw.Cavity(p.Direction), necks: necks,
		}
		if r.to-r.from < alongStep {
			continue
		}
		r.inner = in.middle(r.from, r.to)
		// A ring that stands on the joint itself leaves no room between the two.
		if k == 0 && foot != nil && foot.Removable {
			r.mouths = append(r.mouths, in.mouthOf(r, *foot))
		}
		if k+2 == len(stops) && nose != nil && nose.Removable {
			r.mouths = append(r.mouths, in.mouthOf(r, *nose))
		}
		r.windows = in.windowsOf(r)
		out = append(out, r)
	}
	return out
}

// nameOf a piece for people.
func (in Input) nameOf(id model.PieceID) string {
	if p, ok := in.Division.Piece(id); ok && p.Name != "" {
		return p.Name
	}
	return id.String()
}

// middle is how far out the core, or the stand's post, keeps the space between two
// stations free.
func (in Input) middle(from, to float64) float64 {
	c, s := in.Design.Core, in.Design.Stand
	switch {
	case c != nil && float64(c.Span.From) < to && float64(c.Span.To) > from:
		return float64(c.Stock.Widest())/2 + clear
	case s != nil && (c == nil && from < float64(s.Engage) || c != nil && from < float64(c.Span.From)):
		return float64(s.Post.Widest())/2 + clear
	}
	return 0
}

// middleAt is middle over a box.
func (in Input) middleAt(b box) float64 {
	return in.middle(b.station-b.along/2, b.station+b.along/2)
}

// outerAt is the least radius that the wall and the joints leave over a stretch.
func (r room) outerAt(from, to float64) float64 {
	least := model.LowestBetween(r.cavity, from, to)
	for _, n := range r.necks {
		least = math.Min(least, n.limit(from, to))
	}
	return least
}
