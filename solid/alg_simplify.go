package solid

import (
	"context"
	"math"
)

// Simplify returns the solid with fewer triangles.
//
// First every flat region is divided anew into as few triangles as its outline
// allows: what lies within reach of one plane is flat, and a vertex within it or
// along the straight edge between two such regions goes. Reach is 1e-12 of the
// solid's size, or 64 roundings of its largest coordinate where that is more; it
// is measured from one plane and one straight edge each, so nothing adds up.
//
// The result is closed, has the same components and handles, and no triangle
// that turned over.
//
// The errors: a [*NotSolidError] for a mesh that [Mesh.Check] finds fault with, a
// [*ValueError] for a MaxError that is negative or not finite, or the context's.
func (k Kernel) Simplify(ctx context.Context, m Mesh, o SimplifyOptions) (Mesh, SimplifyReport, error) {
	if !(o.MaxError >= 0) || math.IsInf(o.MaxError, 1) {
		return Mesh{}, SimplifyReport{}, &ValueError{"MaxError", o.MaxError, "0 or more and finite"}
	}
	if err := m.Solid(); err != nil {
		return Mesh{}, SimplifyReport{}, err
	}
	report := SimplifyReport{Before: len(m.Triangles)}
	out, flats, err := k.simplifyFlat(ctx, m)
	if err != nil {
		return Mesh{}, SimplifyReport{}, err
	}
	report.Flats, report.FlatsAfter = flats, len(out.Triangles)
	if flats > 0 {
		report.Bound = flatError * flatReach(m)
	}
	report.After = len(out.Triangles)
	return out, report, nil
}

// flatError bounds how far the division of flat ground moves the surface, in
// units of reach. All corners of a region, old and new, lie within reach of one
// plane, so straight across it old and new are within 2. A vertex that goes from
// the outline lies within 1 of the new edge; what of the old surface lies beyond
// that edge is nearest to it, another 2 away across the plane: √(1² + 2²) < 3.
const flatError = 3

// flatReach is the distance below which lengths of a solid mean nothing; see
// reachShare. Vertices that no triangle uses don't count.
func flatReach(m Mesh) float64 {
	return reachOf(m.Bounds())
}
