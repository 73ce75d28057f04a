package measure

import (
	"context"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
)

// outlines are the closed outlines of objects as flat things that lie on the mat.
// Printed lines that end at an object are trimmed from its mask like those at a
// turned body.
func (m ground) outlines(ctx context.Context, objects []grid, thick float64) ([]Outline, error) {
	out := []Outline{}
	for _, g := range objects {
		edge, ok, err := m.edgeOf(ctx, trimLines(m.reduced, g, m.cam, m.pitch))
		if err != nil {
			return nil, err
		}
		if !ok {
			continue
		}
		if segments := closedSegments(m.onMat(edge, thick), m.thrown(thick)); segments != nil {
			out = append(out, Outline{Name: strconv.Itoa(len(out) + 1), Closed: true, Segments: segments})
		}
	}
	return out, nil
}

// place is a point of an outline on the mat and its standard uncertainty square
// to the outline, mm.
type place struct {
	x, y, u float64
	upper   bool // the upper edge is seen, not the lower one
}

// onMat takes edge points down to what is seen of a thing so thick, anticlockwise
// seen from above: its upper edge where it faces away from the camera's foot, and
// its lower one where its side shows.
func (m ground) onMat(edge []edgePoint, thick float64) []place {
	var out []place
	for _, e := range edge {
		at, ok := m.cam.OnPlane(e.at, 0)
		next, also := m.cam.OnPlane(r2.Add(e.at, e.out), 0)
		if !e.good || !ok || !also {
			continue
		}
		upper := (next.X-at.X)*(at.X-m.cam.C.X)+(next.Y-at.Y)*(at.Y-m.cam.C.Y) > 0
		if upper {
			if at, ok = m.cam.OnPlane(e.at, thick); !ok {
				continue
			}
		}
		perPixel := math.Hypot(next.X-at.X, next.Y-at.Y)
		out = append(out, place{at.X, at.Y, max(flatFloor, e.sigma) * perPixel, upper})
	}
	if turning(out) < 0 {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}

// thrown is how far the height of a thing so thick throws its upper edge away
// from the camera's foot.
func (m ground) thrown(thick float64) func(p place) float64 {
	foot := m.cam.C
	return func(p place) float64 { return math.Hypot(p.x-foot.X, p.y-foot.Y) * thick / (foot.Z - thick) }
}

// flatFloor is the least doubt, pixels, of an edge point of a flat thing: printed
// lines run out under its edge every few millimetres and pull it by about so
// much (drawn photographs show a tenth of a millimetre at four pixels each).
const flatFloor = 0.4

// turning is twice the area of a closed polygon, above 0 anticlockwise.
func turning(p []place) (twice float64) {
	for i, a := range p {
		b := p[(i+1)%len(p)]
		twice += a.x*b.y - b.x*a.y
	}
	return twice
}
