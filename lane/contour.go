package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/solid"
)

// view takes a place of the build onto the paper.
type view func(solid.Vec) drawing.Point

// contourOf are the edges between the faces of a solid that look at the eye and
// those that do not, as loops of corners. Filled (not even-odd) they cover just the
// silhouette: round a place of the paper they wind as often as faces lie there that
// look at the eye.
type contourOf [][]int32

func contourEdges(m solid.Mesh, see view) contourOf {
	opposite, err := m.Opposites()
	if err != nil {
		return nil // not closed; the stages have said so
	}
	eye := see.eye()
	seen := make([]bool, len(m.Triangles))
	for i, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		seen[i] = n.Dot(eye) > edgeOn*n.Length()
	}
	next := map[int32][]int32{}
	var starts []int32
	for h, o := range opposite {
		t := int32(h / 3)
		if !seen[t] || seen[o/3] {
			continue
		}
		from, to := m.Triangles[t][h%3], m.Triangles[t][(h+1)%3]
		next[from] = append(next[from], to)
		starts = append(starts, from)
	}
	var out contourOf
	for _, start := range starts {
		for len(next[start]) > 0 {
			out = append(out, chain(next, start))
		}
	}
	return out
}

// A face that leans towards the eye by less than this, as a sine, is looked at on
// edge and not seen. Whichever faces are taken for seen, their edges are loops.
const edgeOn = 1e-9

// chain follows edges from a corner until it comes back to it, taking them off.
func chain(next map[int32][]int32, start int32) []int32 {
	var loop []int32
	for v := start; len(next[v]) > 0; {
		loop = append(loop, v)
		n := len(next[v]) - 1
		to := next[v][n]
		next[v] = next[v][:n]
		v = to
		if v == start {
			break
		}
	}
	return loop
}

// Corners of a contour nearer than this to the one before are left out, mm of
// paper: a third of a fine line's width.
const contourStep = 0.03

// fill is the path that covers the silhouette.
func (e contourOf) fill(m solid.Mesh, see view) *drawing.Path {
	path := &drawing.Path{}
	for _, loop := range e {
		if len(loop) < 3 {
			continue
		}
		last := see(m.Vertices[loop[0]])
		path.Move(last)
		for _, v := range loop[1:] {
			if p := see(m.Vertices[v]); math.Hypot(p.X-last.X, p.Y-last.Y) > contourStep {
				path.Line(p)
				last = p
			}
		}
		path.Close()
	}
	return path
}
