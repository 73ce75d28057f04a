package solid

import (
	"context"
	"math"
	"slices"
)

// Simplify returns the solid with fewer triangles.
//
// First every flat region is divided anew into as few triangles as its outline
// allows: what lies within reach of one plane is flat, and a vertex within it or
// along the straight edge between two such regions goes. Reach is 1e-12 of the
// solid's size, or 64 roundings of its largest coordinate where that is more; it
// is measured from one plane and one straight edge each, so nothing adds up.
//
// Then, where MaxError is more than 0, edges are drawn together, those first
// that change least, as long as the distance between old and new surface is proven
// to stay within MaxError in both directions: see alg_simplify_drift.go.
//
// The result is closed, has the same components and handles, and no triangle
// that turned over. Surfaces nearer to each other than twice MaxError may come to
// touch or pass through each other; that isn't looked for.
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
	if o.MaxError > 0 {
		if out, err = k.simplifyCurved(ctx, out, o.MaxError, &report); err != nil {
			return Mesh{}, SimplifyReport{}, err
		}
	}
	report.After = len(out.Triangles)
	return out, report, nil
}

// simplifyCurved draws edges together. A component that lost its inside, which
// takes one not much larger than the error allowed, is left as it was, and
// everything done again.
func (k Kernel) simplifyCurved(ctx context.Context, m Mesh, limit float64, report *SimplifyReport) (Mesh, error) {
	label, n := m.components()
	fixed := make([]bool, n)
	for {
		out, err := k.collapse(ctx, m, limit, report.Bound, label, fixed)
		if err != nil {
			return Mesh{}, err
		}
		faults := out.mesh.Check()
		if len(faults) == 0 {
			if out.edges == 0 {
				return m, nil
			}
			report.Bound, report.Collapsed = max(report.Bound, out.bound), out.edges
			return out.mesh, nil
		}
		before := slices.Clone(fixed)
		for _, f := range faults {
			fixed[label[out.from[f.Triangle]]] = true
		}
		if slices.Equal(fixed, before) {
			return m, nil // that of another one shows here
		}
	}
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
