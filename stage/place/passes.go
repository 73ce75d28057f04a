package place

import (
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// passes are the holes that a way beside the core needs in core rings and discs,
// each on the duct.
func (w *work) passes(from, to float64, d duct) []model.Pass {
	var out []model.Pass
	low, high := math.Min(from, to), math.Max(from, to)
	for _, o := range w.discs() {
		if o.to < low || o.from > high {
			continue
		}
		at := (o.from + o.to) / 2
		radius := w.ductRadius(at)
		if radius >= o.outer || radius <= o.inner {
			continue
		}
		out = append(out, model.Pass{
			Piece: o.piece, Station: unit.Length(o.from), Clocking: d.clocking, Radius: unit.Length(radius),
			Across: unit.Length(math.Max(0, math.Min(o.most, 2*(math.Min(o.outer-radius, radius-o.inner)-passEdge)))),
		})
	}
	return out
}

// inside are the holes that a way inside the core needs: in the core's wall, and in
// the bushes round the post.
func (w *work) inside(in, out float64, d duct) []model.Pass {
	holes := slices.Clone(d.holes)
	for _, p := range w.bushes(in, out) {
		inner, outer := w.lumen(float64(p.Span.From+p.Span.To) / 2)
		holes = append(holes, model.Pass{
			Piece: p.ID, Station: p.Span.From, Clocking: d.clocking, Radius: unit.Length((inner + outer) / 2),
			Across: unit.Length(math.Max(0, math.Min(passWide, outer-inner+2*clear-2*passEdge))),
		})
	}
	return holes
}

// bushes are those round the post that a way from one station to another meets, in
// its order.
func (w *work) bushes(from, to float64) []model.Piece {
	var out []model.Piece
	for _, p := range w.Division.Pieces {
		if p.ID.Kind == model.Bush && float64(p.Span.To) > math.Min(from, to) && float64(p.Span.From) < math.Max(from, to) {
			out = append(out, p)
		}
	}
	if to < from {
		slices.Reverse(out)
	}
	return out
}

// disc is a piece that lies square across the body inside it.
type disc struct {
	piece        model.PieceID
	from, to     float64
	inner, outer float64
	most         float64 // of a hole in it
}

// discs are the core rings, and the parts turned round an axis of their own that is
// the build's too. A hole in what spreads light lets a few wires through and no
// plug.
func (w *work) discs() []disc {
	var out []disc
	for _, s := range w.Division.Seats {
		at := float64(s.Span.From+s.Span.To) / 2
		out = append(out, disc{
			piece: s.Ring, from: float64(s.Span.From), to: float64(s.Span.To),
			inner: w.middle(at-0.5, at+0.5), outer: w.wallAt(at), most: passWide,
		})
	}
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
				outer: model.HighestBetween(w.Raw[i].Outer, float64(piece.Span.From), float64(piece.Span.To)), most: passLeast,
			})
		}
	}
	return out
}

// narrow says which discs are too narrow for a hole, each once.
func (w *work) narrow(ways []model.Way) finding.List {
	var found finding.List
	var said []model.PieceID
	for _, way := range ways {
		for _, p := range way.Passes {
			if p.Core || p.Across >= passLeast || slices.Contains(said, p.Piece) {
				continue
			}
			said = append(said, p.Piece)
			found.Add(finding.New("no-pass", w.Design.Components[0].At, finding.Args{
				"piece": finding.Name(w.nameOf(p.Piece)), "wide": finding.Size(p.Across + 2*passEdge),
				"need": finding.Size(passLeast + 2*passEdge), "wire": finding.Name(way.Wire),
			}).About(p.Piece.Part).AtStation(p.Station))
		}
	}
	return found
}
