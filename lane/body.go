package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
)

// shells are the indices of the body's pieces that show outside, by station.
func shells(r job.Result) []int {
	var out []int
	for i, p := range r.Division.Pieces {
		if p.ID.Kind == model.Shell && !p.Own {
			out = append(out, i)
		}
	}
	return out
}

func tint(n int) drawing.Colour {
	if n%2 == 0 {
		return drawing.TintA
	}
	return drawing.TintB
}

// outside draws the half of the sign as it is seen: pieces tinted by turns, the
// seams between them and the edges of the profile. Without pieces the parts are
// tinted.
func outside(s *drawing.Scene, p plot, r job.Result, signs ...float64) {
	o := r.Design.Outline
	for _, sign := range signs {
		n := shells(r)
		for k, i := range n {
			piece := r.Division.Pieces[i]
			s.Begin(drawing.Group{ID: "piece-" + piece.ID.String(), Class: "piece", Title: piece.Name})
			clip := o.Between(float64(piece.Span.From), float64(piece.Span.To))
			s.Path(p.underProfile(clip, sign), drawing.Filled(tint(k)))
			seam(s, p, clip, sign)
			s.End()
		}
		if len(n) == 0 {
			for k, part := range r.Design.Parts {
				if !part.OnBody() {
					continue
				}
				clip := o.Between(float64(part.Span.From), float64(part.Span.To))
				s.Path(p.underProfile(clip, sign), drawing.Filled(tint(k)))
				seam(s, p, clip, sign)
			}
		}
		edges(s, p, o, sign)
		s.Path(p.line(closed(o), sign), drawing.Lined(p.outline()))
	}
}

// closed is the outline with its flat ends down to the axis.
func closed(o model.Outline) []model.Point {
	points := o.Polyline(chordSag)
	first, last := points[0], points[len(points)-1]
	points = append([]model.Point{{Station: first.Station}}, points...)
	return append(points, model.Point{Station: last.Station})
}

// visibleEdge is the change of slope that is drawn as an edge: as divide counts
// a corner that hides a seam.
const visibleEdge = 5 * math.Pi / 180

// edges are lines round the body where the profile turns a corner.
func edges(s *drawing.Scene, p plot, o model.Outline, sign float64) {
	for i := 1; i < len(o); i++ {
		_, arrives := headings(o[i-1])
		leaves, _ := headings(o[i])
		if math.Abs(leaves-arrives) > visibleEdge {
			at := o[i].From
			s.Line(p.at(at.Station, 0), p.at(at.Station, sign*at.Radius), drawing.Fine)
		}
	}
}

// headings are the directions of a segment at its ends, as angles from the
// axis. An arc's is square to its radius, on the side that leads to its end.
func headings(g model.Segment) (leaves, arrives float64) {
	chord := math.Atan2(g.To.Radius-g.From.Radius, g.To.Station-g.From.Station)
	if g.Kind != model.Arc {
		return chord, chord
	}
	tangent := func(at model.Point) float64 {
		dz, dr := at.Station-g.Centre.Station, at.Radius-g.Centre.Radius
		t := math.Atan2(-dz, dr)
		if math.Cos(t-chord) < 0 {
			t = math.Atan2(dz, -dr)
		}
		return t
	}
	return tangent(g.From), tangent(g.To)
}

// seam is the line round the body where a piece or part begins, and its other
// end.
func seam(s *drawing.Scene, p plot, clip model.Outline, sign float64) {
	if len(clip) == 0 {
		return
	}
	for _, at := range [...]model.Point{clip[0].From, clip[len(clip)-1].To} {
		s.Line(p.at(at.Station, 0), p.at(at.Station, sign*at.Radius), p.seam())
	}
}

// solidWall is the thickness on paper below which a cut wall is drawn solid
// (ISO 128-3 lets thin sections be shown black).
const solidWall = 1.6
