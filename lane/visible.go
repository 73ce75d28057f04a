package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/solid"
)

// picture draws a solid as it is seen: its silhouette filled, and the edges of its
// contour that nothing of it hides.
func picture(s *drawing.Scene, m solid.Mesh, see view, st drawing.Style) {
	edges := contourEdges(m, see)
	s.Path(edges.fill(m, see), drawing.Filled(st.Fill))
	s.Path(edges.seen(m, see), drawing.Lined(st.Stroke))
}

// contour is the filled outline of a solid.
func contour(m solid.Mesh, see view) *drawing.Path { return contourEdges(m, see).fill(m, see) }

// eye is the direction from the paper to whoever looks at it, a unit vector of the
// build: views are straight, so three places say it.
func (see view) eye() solid.Vec {
	var right, up solid.Vec
	o := see(solid.Vec{})
	for k := range right {
		v := solid.Vec{}
		v[k] = 1
		p := see(v).Sub(o)
		right[k], up[k] = p.X, -p.Y
	}
	return right.Cross(up).Unit()
}

// scale is mm of paper a mm of the build.
func (see view) scale() float64 {
	o := see(solid.Vec{})
	most := 0.0
	for k := range 3 {
		v := solid.Vec{}
		v[k] = 1
		p := see(v).Sub(o)
		most = max(most, math.Hypot(p.X, p.Y))
	}
	return most
}

// An edge is looked at from so far in front of it, mm of paper: past the faces
// that meet in it, well below a line's width.
const beforeEdge = 0.02

// seen are the edges that are not hidden.
func (e contourOf) seen(m solid.Mesh, see view) *drawing.Path {
	path := &drawing.Path{}
	for _, run := range e.runs(m, see) {
		path.Append(drawing.Polyline(run...))
	}
	return path
}

// runs are the edges in a row that are not hidden: from the middle of each, nothing
// lies towards the eye.
func (e contourOf) runs(m solid.Mesh, see view) [][]drawing.Point {
	tree, err := solid.NewTree(m)
	if err != nil {
		return nil // no contour either
	}
	eye, off := see.eye(), beforeEdge/see.scale()
	visible := func(a, b int32) bool {
		middle := m.Vertices[a].Add(m.Vertices[b]).Scale(0.5)
		ray, err := solid.NewRay(middle.Add(eye.Scale(off)), eye, math.Inf(1))
		if err != nil {
			return false
		}
		_, hit := tree.FirstHit(ray)
		return !hit
	}
	var out [][]drawing.Point
	for _, loop := range e {
		down := false // whether the pen is on the paper
		var last drawing.Point
		for i, v := range loop {
			next := loop[(i+1)%len(loop)]
			if !visible(v, next) {
				down = false
				continue
			}
			if !down {
				last = see(m.Vertices[v])
				out = append(out, []drawing.Point{last})
				down = true
			}
			if p := see(m.Vertices[next]); i+1 == len(loop) || math.Hypot(p.X-last.X, p.Y-last.Y) > contourStep {
				out[len(out)-1] = append(out[len(out)-1], p)
				last = p
			}
		}
	}
	return out
}
