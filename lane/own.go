package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// owns are the indices of the pieces that have a line of their own: what is flat,
// imported, or turned round another axis than the body's.
func owns(r job.Result) []int {
	var out []int
	for i := range r.Carved {
		if r.Division.Pieces[i].Own {
			out = append(out, i)
		}
	}
	return out
}

// bodies are the indices of the carved pieces on the body's axis.
func bodies(r job.Result) []int {
	var out []int
	for i := range r.Carved {
		if !r.Division.Pieces[i].Own {
			out = append(out, i)
		}
	}
	return out
}

// side is the view of every elevation: the build's +X points to where the
// outside half lies, and +Y at the eye.
func (p plot) side(v solid.Vec) drawing.Point { return p.at(v[2], v[0]) }

// beyond is how far what has a line of its own reaches from the axis, up and
// down in the elevation; at least so far as the body.
func beyond(r job.Result, radius float64) (up, down float64) {
	up, down = radius, radius
	for _, i := range owns(r) {
		b := r.Carved[i].Solid.Bounds()
		up, down = max(up, b.Max[0]), max(down, -b.Min[0])
	}
	return up, down
}

// silhouettes draws what has a line of its own as it is seen from the side:
// either what the body hides in part, or what lies before it. The half in section
// has nothing before it.
func silhouettes(s *drawing.Scene, p plot, r job.Result, front, bothHalves bool) {
	for _, i := range owns(r) {
		m, piece := r.Carved[i].Solid, r.Division.Pieces[i]
		if m.Empty() || before(m, bothHalves) != front {
			continue
		}
		s.Begin(drawing.Group{ID: "piece-" + piece.ID.String(), Class: "piece", Title: piece.Name})
		picture(s, m, p.side, drawing.Style{Fill: tintOf(r, i), Stroke: p.outline()})
		s.End()
	}
}

// tintOf tells a guest from its host, and the pieces of one part by turns.
func tintOf(r job.Result, i int) drawing.Colour {
	id := r.Division.Pieces[i].ID
	for _, m := range r.Design.Mounts {
		if m.Guest == id.Part {
			return drawing.TintB
		}
	}
	n := 0
	for _, p := range r.Division.Pieces[:i] {
		if p.ID.Part == id.Part {
			n++
		}
	}
	for _, m := range r.Design.Mounts {
		if m.Host == id.Part {
			return drawing.TintA // its guests have the other; lines tell its pieces
		}
	}
	return tint(n)
}

// before reports whether a solid lies between the eye and the body, where that
// is drawn from outside.
func before(m solid.Mesh, bothHalves bool) bool {
	b := m.Bounds()
	return b.Min[1]+b.Max[1] > 0 && (bothHalves || b.Min[0] >= 0)
}

// stretchOf is the stretch of the build's stations that a piece takes.
func stretchOf(r job.Result, i int) model.Span {
	piece := r.Division.Pieces[i]
	if !piece.Own || i >= len(r.Carved) || r.Carved[i].Solid.Empty() {
		return piece.Span
	}
	b := r.Carved[i].Solid.Bounds()
	return model.Span{From: unit.Length(b.Min[2]), To: unit.Length(b.Max[2])}
}

// partOf is the part that a piece is of.
func partOf(r job.Result, piece model.Piece) model.Part {
	for _, p := range r.Design.Parts {
		if p.ID == piece.ID.Part {
			return p
		}
	}
	return model.Part{}
}

// profileOf is the outer profile of a turned piece on its own axis.
func profileOf(r job.Result, piece model.Piece) model.Outline {
	o := r.Design.Outline
	if piece.Own {
		o = partOf(r, piece).Outline
	}
	return o.Between(float64(piece.Span.From), float64(piece.Span.To))
}

// whole are the least and largest station that anything takes.
func whole(r job.Result) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	if o := r.Design.Outline; len(o) > 0 {
		low, high = o.Start(), o.End()
	}
	for _, i := range owns(r) {
		span := stretchOf(r, i)
		low, high = min(low, float64(span.From)), max(high, float64(span.To))
	}
	return low, high
}
