package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/solid"
)

// view takes a place of the build onto the paper.
type view func(solid.Vec) drawing.Point

// contour is what a solid looks like from one side: the edges between the faces
// that are seen and those that are not, as loops. Filled (not even-odd) they
// cover just the silhouette: round a place of the paper they wind as often as
// faces lie there that look at the eye.
func contour(m solid.Mesh, see view) *drawing.Path {
	path := &drawing.Path{}
	opposite, err := m.Opposites()
	if err != nil {
		return path // not closed; the stages have said so
	}
	at := make([]drawing.Point, len(m.Vertices))
	for i, v := range m.Vertices {
		at[i] = see(v)
	}
	// Paper's y runs down, so a face that looks at the eye runs clockwise in
	// paper's own coordinates.
	seen := func(t int32) bool {
		c := m.Triangles[t]
		a, b, d := at[c[0]], at[c[1]], at[c[2]]
		return solid.Orient(solid.Point{a.X, a.Y}, solid.Point{b.X, b.Y}, solid.Point{d.X, d.Y}) == solid.Clockwise
	}
	next := map[int32][]int32{}
	var starts []int32
	for h, o := range opposite {
		t := int32(h / 3)
		if !seen(t) || seen(o/3) {
			continue
		}
		from, to := m.Triangles[t][h%3], m.Triangles[t][(h+1)%3]
		next[from] = append(next[from], to)
		starts = append(starts, from)
	}
	for _, start := range starts {
		for len(next[start]) > 0 {
			draw(path, at, chain(next, start))
		}
	}
	return path
}

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

func draw(path *drawing.Path, at []drawing.Point, loop []int32) {
	if len(loop) < 3 {
		return
	}
	last := at[loop[0]]
	path.Move(last)
	for _, v := range loop[1:] {
		if p := at[v]; math.Hypot(p.X-last.X, p.Y-last.Y) > contourStep {
			path.Line(p)
			last = p
		}
	}
	path.Close()
}
