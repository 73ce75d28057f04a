// Package surface says how rough a printed surface is and what smoothing it
// takes: stairs, films, coverage. Lengths in mm, angles as unit normals.
package surface

import "math"

// flat is the cosine past which a face lies in its layer: it has no stair.
const flat = 0.99995

// Cusp is the height of the stair that layers leave on a face whose unit normal
// has this part along the build axis: c = L·|n_z| (Dolenc & Mäkelä, Computer-Aided
// Design 26(2), 1994, 119-126; from memory). A face that lies in a layer has none.
func Cusp(layer, nz float64) float64 {
	nz = math.Abs(nz)
	if nz > flat {
		return 0
	}
	return layer * nz
}

// Depth is what sanding must take off: the stair and the roughness that a wall
// without stairs has too, √(cusp² + floor²) (common practice).
func Depth(cusp, floor float64) float64 { return math.Hypot(cusp, floor) }

// Cycles is how often priming and sanding, each leaving 1 - share of the depth,
// bring it to a limit: the least n with depth·(1 - share)^n ≤ limit, never 0.
func Cycles(depth, limit, share float64) int {
	if depth <= limit {
		return 1
	}
	return max(1, int(math.Ceil(math.Log(limit/depth)/math.Log(1-share)-1e-9)))
}

// Coverage is the area, m², that a can of so many litres covers with a dry film
// of so many mm: litres · solids / film · transfer, of what leaves the can
// (coverage rule of coatings, theoretical coverage 10·solids %/film µm in m²/l).
func Coverage(litres, solids, film, transfer float64) float64 {
	return litres * 1e-3 * solids / (film * 1e-3) * transfer
}

// Dry is the dry film of a wet one: wet · solids by volume.
func Dry(wet, solids float64) float64 { return wet * solids }
