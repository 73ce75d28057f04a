package lane

import (
	"cmp"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/solid"
)

// visiblePlace is where a piece with a line of its own is pointed at: the middle of
// its largest face that looks at the eye and that no box round another such piece,
// nearer to the eye, lies before; failing that, of its largest face.
func visiblePlace(r job.Result, i int, see view) drawing.Point {
	m, eye := r.Carved[i].Solid, see.eye()
	type face struct {
		area   float64
		middle solid.Vec
	}
	var faces []face
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		if area := b.Sub(a).Cross(c.Sub(a)).Dot(eye); area > 0 {
			faces = append(faces, face{area, a.Add(b).Add(c).Scale(1.0 / 3)})
		}
	}
	if len(faces) == 0 {
		return see(m.Centroid())
	}
	slices.SortStableFunc(faces, func(a, b face) int { return cmp.Compare(b.area, a.area) })
	for _, f := range faces[:min(len(faces), facesTried)] {
		if !hidden(r, i, f.middle, see) {
			return see(f.middle)
		}
	}
	return see(faces[0].middle)
}

// So many of the largest faces are tried.
const facesTried = 200

// hidden reports whether the box round another piece lies before a place.
func hidden(r job.Result, i int, place solid.Vec, see view) bool {
	eye, at := see.eye(), see(place)
	for _, k := range owns(r) {
		b := r.Carved[k].Solid.Bounds()
		middle := b.Min.Add(b.Max).Scale(0.5)
		if k == i || middle.Sub(place).Dot(eye) <= 0 {
			continue
		}
		p, q := see(b.Min), see(b.Max)
		if min(p.X, q.X) <= at.X && at.X <= max(p.X, q.X) && min(p.Y, q.Y) <= at.Y && at.Y <= max(p.Y, q.Y) {
			return true
		}
	}
	return false
}
