package lane

import (
	"context"
	"math"
	"strconv"

	"scalewright/drawing"
	"scalewright/solid"
)

// picture draws a solid as it is seen: its silhouette filled, and the edges that
// nothing of it hides.
func picture(s *drawing.Scene, m solid.Mesh, see view, st drawing.Style) {
	s.Path(contour(m, see), drawing.Filled(st.Fill))
	s.Path(visible(see, m)[0], drawing.Lined(st.Stroke))
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

// visible are the edges of solids that none of them hides, a path each.
func visible(see view, solids ...solid.Mesh) []*drawing.Path {
	paths := make([]*drawing.Path, len(solids))
	for i, runs := range visibleRuns(see, solids...) {
		paths[i] = &drawing.Path{}
		for _, run := range runs {
			if last := len(run) - 1; last > 2 && run[last] == run[0] {
				paths[i].Append(drawing.Polygon(run[:last]...))
			} else {
				paths[i].Append(drawing.Polyline(run...))
			}
		}
	}
	return paths
}

// visibleRuns are the same edges as rows of points.
func visibleRuns(see view, solids ...solid.Mesh) [][][]drawing.Point {
	runs := make([][][]drawing.Point, len(solids))
	placed := make([]solid.Placed, len(solids))
	number := make(map[string]int, len(solids))
	for i, m := range solids {
		id := strconv.Itoa(i)
		number[id] = i
		placed[i] = solid.Placed{ID: id, Mesh: m, At: solid.Identity()}
	}
	p, err := solid.Kernel{}.Project(context.Background(), placed, solid.View{Eye: see.eye()})
	if err != nil {
		return runs // numbers that are none; the stages have said so
	}
	for _, l := range withoutSpecks(p, see.scale()) {
		n := number[l.Solid]
		runs[n] = append(runs[n], onSheet(l, p.Frame, see))
	}
	return runs
}

// onSheet are the points of a line on the paper, those left out that nobody sees.
func onSheet(l solid.Polyline, f solid.Frame, see view) []drawing.Point {
	var out []drawing.Point
	for i, q := range l.Points {
		at := see(f.Lift(q).Add(f.N.Scale(l.Depths[i])))
		if n := len(out); n > 0 && i+1 < len(l.Points) && math.Hypot(at.X-out[n-1].X, at.Y-out[n-1].Y) <= contourStep {
			continue
		}
		out = append(out, at)
	}
	return out
}
