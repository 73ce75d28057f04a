package lane

import (
	"context"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// PieceView is the drawing of a piece for its page: turned, the half-section;
// flat, its outline; of a mesh, as it stands, cut open through its middle, with what
// is seen from above below.
// The scale comes back as the n of 1:n.
func PieceView(r job.Result, i int, width, height float64, u unit.System) (*drawing.Scene, float64) {
	piece := r.Division.Pieces[i]
	switch {
	case piece.ID.Kind == model.Panel:
		return standingView(r, i, width, height, u)
	case piece.ID.Kind != model.Slice:
		return HalfSection(r, i, width, height, u)
	case piece.Direction == model.Lying:
		return flatView(r, i, width, height, u)
	}
	return standingView(r, i, width, height, u)
}

// Views of a plane with y up.
func fromAbove(v solid.Vec) solid.Point { return solid.Point{v[0], v[1]} }
func fromFront(v solid.Vec) solid.Point { return solid.Point{v[0], v[2]} }

// flatView is a flat piece as its outline was typed, with its length, width and
// thickness.
func flatView(r job.Result, i int, width, height float64, u unit.System) (*drawing.Scene, float64) {
	piece := r.Division.Pieces[i]
	m := inOwnFrame(r, i)
	box := drawn(m, fromAbove)
	n := Reduction(max(box.W/(width-sectionLeft-sectionRight), box.H/(height-2*sectionRim-2*dimensionRow)))
	k := 1 / n
	at := drawing.Pt(sectionLeft+(width-sectionLeft-sectionRight-box.W*k)/2, sectionRim)
	s := drawing.New(width, sectionRim+box.H*k+2*dimensionRow+sectionRim)
	s.Title = piece.Name + ", from above"
	picture(s, m, onPaper(fromAbove, box, k, at), drawing.Style{Fill: tintOf(r, i), Stroke: drawing.Outline})
	sized(s, box, k, at, u)
	thick := unit.Length(m.Bounds().Size()[2])
	s.Text(drawing.Text{
		At: drawing.Pt(at.X+box.W*k/2, at.Y+box.H*k+2*dimensionRow+1), H: drawing.Middle, V: drawing.Centre,
		String: u.Fine(thick) + " thick", Size: drawing.SizeBody,
	})
	return s, n
}

// standingView is a piece from a mesh file as it stands on its platform, and from
// above.
func standingView(r job.Result, i int, width, height float64, u unit.System) (*drawing.Scene, float64) {
	piece := r.Division.Pieces[i]
	m := r.Carved[i].Solid.Transform(r.Prints[i].Placement)
	front, plan := drawn(m, fromFront), drawn(m, fromAbove)
	const gap = 8.0
	room := height - 2*sectionRim - 2*dimensionRow - gap
	n := Reduction(max(front.W/(width-sectionLeft-sectionRight), (front.H+plan.H)/room))
	k := 1 / n
	at := drawing.Pt(sectionLeft+(width-sectionLeft-sectionRight-front.W*k)/2, sectionRim)
	s := drawing.New(width, 2*sectionRim+(front.H+plan.H)*k+2*dimensionRow+gap)
	s.Title = piece.Name + ", as it stands, cut open"
	cutOpen(s, r, i, m, onPaper(fromFront, front, k, at))
	platform(s, at.X+front.W*k/2, front.W*k/2, at.Y+front.H*k)
	sized(s, front, k, at, u)
	at.Y += front.H*k + dimensionRow + gap
	picture(s, m, onPaper(fromAbove, plan, k, at), drawing.Style{Fill: tintOf(r, i), Stroke: drawing.Outline})
	s.Dimension(drawing.Dimension{
		ID: "deep", Axis: drawing.Vertical, At: at.X - dimensionRow,
		From: drawing.Pt(at.X, at.Y+plan.H*k), To: drawing.Pt(at.X, at.Y), Text: u.Figure(unit.Length(plan.H)),
	})
	return s, n
}

// cutOpen draws a standing piece cut by a plane through the core's axis, or through
// its middle, and what is seen behind the plane.
func cutOpen(s *drawing.Scene, r job.Result, i int, m solid.Mesh, look view) {
	b := m.Bounds()
	depth := (b.Min[1] + b.Max[1]) / 2
	if r.Division.Pieces[i].OnCore {
		depth = r.Prints[i].Placement.Apply(solid.Vec{})[1]
	}
	plane := solid.Plane{Normal: look.eye(), Offset: look.eye()[1] * depth}
	_, behind, err := solid.Cut(m, plane)
	if err != nil {
		return // not closed; the stages have said so
	}
	p, err := solid.Kernel{}.Project(context.Background(), []solid.Placed{{Mesh: m, At: solid.Identity()}},
		solid.View{Eye: look.eye(), Section: plane})
	if err != nil {
		return
	}
	s.Path(contour(behind, look), drawing.Filled(tintOf(r, i)))
	cut, beyond := &drawing.Path{}, &drawing.Path{}
	for _, face := range p.Cuts {
		for _, region := range face.Regions {
			for _, loop := range region.Loops() {
				points := make([]drawing.Point, len(loop))
				for k, q := range loop {
					// The view is straight: how deep a point lies moves it nowhere.
					points[k] = look(p.Frame.Lift(q))
				}
				cut.Append(drawing.Polygon(points...))
			}
		}
	}
	for _, l := range withoutSpecks(p, look.scale()) {
		if l.Kind != solid.SectionEdge {
			beyond.Append(drawing.Polyline(onSheet(l, p.Frame, look)...))
		}
	}
	s.Path(cut, drawing.Style{Fill: drawing.Sheet, EvenOdd: true})
	s.Hatch(cut, drawing.Hatch{})
	s.Path(beyond, drawing.Lined(drawing.Object))
	s.Path(cut, drawing.Style{Stroke: drawing.Outline, EvenOdd: true})
}

// sized dimensions a view's width below it and its height to the left.
func sized(s *drawing.Scene, box drawing.Rect, k float64, at drawing.Point, u unit.System) {
	bottom := at.Y + box.H*k
	s.Dimension(drawing.Dimension{
		ID: "wide", At: bottom + dimensionRow, From: drawing.Pt(at.X, bottom), To: drawing.Pt(at.X+box.W*k, bottom),
		Text: u.Figure(unit.Length(box.W)),
	})
	s.Dimension(drawing.Dimension{
		ID: "high", Axis: drawing.Vertical, At: at.X - dimensionRow, From: drawing.Pt(at.X, bottom), To: at,
		Text: u.Figure(unit.Length(box.H)),
	})
}

// inOwnFrame is a piece in the frame that its part was shaped in.
func inOwnFrame(r job.Result, i int) solid.Mesh {
	back, ok := partOf(r, r.Division.Pieces[i]).Frame().Inverse()
	if !ok {
		panic("lane: internal error: a frame that cannot be undone")
	}
	return r.Carved[i].Solid.Transform(back)
}

// drawn is what a solid takes in a view.
func drawn(m solid.Mesh, see func(solid.Vec) solid.Point) drawing.Rect {
	b := m.Bounds()
	low, high := see(b.Min), see(b.Max)
	return drawing.Rect{X: low[0], Y: low[1], W: high[0] - low[0], H: high[1] - low[1]}
}
