package lane

import (
	"cmp"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// face is a view of the whole build for drawings that need not be read by
// station: from the side, stations to the right; where nothing is turned on the
// build's axis, standing up if nothing is flat either, and along the axis if the
// build is larger that way. It maps onto a plane with y up.
func face(r job.Result) func(solid.Vec) solid.Point {
	side := func(v solid.Vec) solid.Point { return solid.Point{v[2], v[0]} }
	along := func(v solid.Vec) solid.Point { return solid.Point{v[0], v[1]} }
	if len(r.Design.Outline) > 0 {
		return side
	}
	lies := slices.ContainsFunc(r.Design.Parts, func(p model.Part) bool { return p.Form == model.Flat })
	a, b := boxOf(r, side), boxOf(r, along)
	switch {
	case !lies:
		return fromFront // it stands
	case b.W*b.H > a.W*a.H:
		return along
	}
	return side
}

// boxOf is what the build takes in a view, y up: the body and all that has a line
// of its own.
func boxOf(r job.Result, see func(solid.Vec) solid.Point) drawing.Rect {
	low, high := solid.Point{math.Inf(1), math.Inf(1)}, solid.Point{math.Inf(-1), math.Inf(-1)}
	take := func(v solid.Vec) {
		p := see(v)
		for k := range p {
			low[k], high[k] = min(low[k], p[k]), max(high[k], p[k])
		}
	}
	if o := r.Design.Outline; len(o) > 0 {
		radius := o.MaxRadius()
		take(solid.Vec{-radius, -radius, o.Start()})
		take(solid.Vec{radius, radius, o.End()})
	}
	for _, i := range owns(r) {
		b := r.Carved[i].Solid.Bounds()
		take(b.Min)
		take(b.Max)
	}
	if low[0] > high[0] {
		return drawing.Rect{}
	}
	return drawing.Rect{X: low[0], Y: low[1], W: high[0] - low[0], H: high[1] - low[1]}
}

// onPaper lays a box of the build into a frame of the paper at a scale, y up on
// the build and down on the paper.
func onPaper(see func(solid.Vec) solid.Point, box drawing.Rect, k float64, at drawing.Point) view {
	return func(v solid.Vec) drawing.Point {
		p := see(v)
		return drawing.Pt(at.X+(p[0]-box.X)*k, at.Y+(box.Y+box.H-p[1])*k)
	}
}

// ownKey is the key of a build without a body.
func ownKey(s *drawing.Scene, r job.Result, i int) {
	see := face(r)
	box := boxOf(r, see)
	k := min((s.Width-1)/box.W, (s.Height-1)/box.H)
	look := onPaper(see, box, k, drawing.Pt(s.Width-0.5-box.W*k, s.Height/2-box.H*k/2))
	all := &drawing.Path{}
	for n := range r.Carved {
		if n != i {
			all.Append(contour(r.Carved[n].Solid, look))
		}
	}
	keyed(s, all, contour(r.Carved[i].Solid, look))
}

// keyOwn draws what has a line of its own in the key of a build with a body: what
// lies behind it, or before.
func keyOwn(s *drawing.Scene, p plot, r job.Result, i int, front bool) {
	if len(owns(r)) == 0 {
		return
	}
	others, this := &drawing.Path{}, &drawing.Path{}
	for _, n := range owns(r) {
		m := r.Carved[n].Solid
		switch {
		case m.Empty() || before(m, true) != front && n != i:
		case n != i:
			others.Append(contour(m, p.side))
		case front: // the piece of the page is seen whole
			this = contour(m, p.side)
		}
	}
	keyed(s, others, this)
}

// keyed fills the piece in question among the others.
func keyed(s *drawing.Scene, others, this *drawing.Path) {
	line := drawing.Lined(drawing.Thin.Wide(2 * drawing.Thin.Width))
	s.Path(others, line)
	s.Path(others, drawing.Filled(drawing.Shade))
	s.Path(this, line)
	s.Path(this, drawing.Filled(drawing.Ink3))
}

// front is a build without a body as it is looked at, at the largest usual scale
// that fits the box. The scale comes back as the n of 1:n.
func front(r job.Result, width, height float64, u unit.System) (*drawing.Scene, float64) {
	const rim, row = 12.0, 8.0
	s := drawing.New(width, height)
	s.Title = "Front"
	see := face(r)
	box := boxOf(r, see)
	if box.W <= 0 || box.H <= 0 {
		return s, 0
	}
	n := Reduction(max(box.W/(width-rim-2), box.H/(height-2*rim)))
	k := 1 / n
	s.Height = box.H*k + 2*rim + 4
	look := onPaper(see, box, k, drawing.Pt(rim, 4))
	pictures(s, r, look)
	right, bottom := rim+box.W*k, 4+box.H*k
	s.Dimension(drawing.Dimension{
		ID: "front-wide", From: drawing.Pt(rim, bottom), To: drawing.Pt(right, bottom), At: bottom + row,
		Text: u.Figure(unit.Length(box.W)), Title: "overall width",
	})
	s.Dimension(drawing.Dimension{
		ID: "front-high", Axis: drawing.Vertical, From: drawing.Pt(rim, bottom), To: drawing.Pt(rim, 4), At: 5,
		Text: u.Figure(unit.Length(box.H)), Title: "overall height",
	})
	return s, n
}

// pictures draws every piece in a view: silhouettes filled, the farthest first, and
// over them the edges that no piece hides.
func pictures(s *drawing.Scene, r job.Result, look view) {
	solids := make([]solid.Mesh, len(r.Carved))
	for i, c := range r.Carved {
		solids[i] = c.Solid
	}
	order := fromBehind(r, look)
	for _, i := range order {
		piece := r.Division.Pieces[i]
		s.Begin(drawing.Group{ID: "piece-" + piece.ID.String(), Class: "piece", Title: piece.Name})
		s.Path(contour(solids[i], look), drawing.Filled(tintOf(r, i)))
		s.End()
	}
	edges := visible(look, solids...)
	for _, i := range order {
		s.Path(edges[i], drawing.Lined(drawing.Object))
	}
}

// fromBehind are the pieces with the one farthest from the eye first, by the
// middle of each.
func fromBehind(r job.Result, look view) []int {
	eye := look.eye()
	order := make([]int, len(r.Carved))
	depth := make([]float64, len(r.Carved))
	for i, c := range r.Carved {
		b := c.Solid.Bounds()
		order[i], depth[i] = i, eye.Dot(b.Min.Add(b.Max))
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(depth[a], depth[b]) })
	return order
}
