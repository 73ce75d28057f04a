package platform

import (
	"math"

	"scalewright/solid"
)

// Overhang is the area, seen from below, of the triangles of a solid standing on
// z = 0 that lean out further than an angle from the vertical, rad, and do not lie
// on the platform.
func Overhang(m solid.Mesh, steepest float64) float64 {
	area := 0.0
	limit := -math.Sin(steepest) - leanNear
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		twice := n.Length()
		if twice == 0 || n[2]/twice >= limit || max(a[2], b[2], c[2]) < onPlatform {
			continue
		}
		area += -n[2] / 2
	}
	return area
}

// Contact is the area of the triangles that lie on the platform.
func Contact(m solid.Mesh) float64 {
	area := 0.0
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		if max(a[2], b[2], c[2]) < onPlatform {
			area += -b.Sub(a).Cross(c.Sub(a))[2] / 2
		}
	}
	return area
}

const (
	leanNear   = 1e-3 // a slope so little past the limit, as a sine, is at it
	onPlatform = 1e-6 // mm; what lies lower lies on the platform: rounding leaves less
)
