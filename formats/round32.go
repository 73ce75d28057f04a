package formats

import (
	"fmt"
	"math"

	"scalewright/solid"
)

// Rounding says what [Round32] changed.
type Rounding struct {
	Moved     float64 // the farthest a vertex moved, mm
	Collapsed int     // triangles gone because an edge of theirs became a point
	Folded    int     // triangles gone in pairs that came to lie face to face
	Swapped   int     // diagonals swapped because a triangle fell flat
	Nudged    int     // vertices moved apart that fell on one another
	Divided   int     // edges given a middle vertex because four faces met there
	Vanished  int     // components gone because they were thinner than a step of single precision
}

// Clean reports whether only the rounding itself took place.
func (r Rounding) Clean() bool {
	return r.Collapsed+r.Folded+r.Swapped+r.Nudged+r.Divided+r.Vanished == 0
}

// String says what was changed.
func (r Rounding) String() string {
	if r.Clean() {
		return fmt.Sprintf("rounded to single precision, at most %.3g mm", r.Moved)
	}
	return fmt.Sprintf("rounded to single precision, at most %.3g mm: %d triangles collapsed, %d folded away, "+
		"%d diagonals swapped, %d vertices moved apart, %d edges divided, %d components vanished",
		r.Moved, r.Collapsed, r.Folded, r.Swapped, r.Nudged, r.Divided, r.Vanished)
}

// RoundingError is a solid that single precision can't hold.
type RoundingError struct {
	Done Rounding
	Err  error // a *solid.NotSolidError or *solid.ValueError
}

// Error says why.
func (e *RoundingError) Error() string { return "round to single precision: " + e.Err.Error() }

// Unwrap returns the cause.
func (e *RoundingError) Unwrap() error { return e.Err }

// maxRounds bounds the rounds of moving vertices apart, each of which may bring
// new neighbours together; a real part needs one or two.
const maxRounds = 16

// Round32 rounds the vertices to single precision and mends what that breaks. The
// result is closed and manifold even after its vertices are welded by exact
// coordinates, which [solid.Mesh.Check] has confirmed; otherwise the error is a
// [*RoundingError]. The solid must be closed.
//
// It works on the half-edge pairs of the solid it was given, never on pairs
// guessed from coordinates, in rounds of: drop triangles with an edge that became
// a point, drop pairs that came to lie face to face, swap the long edge of those
// that fell flat, then move apart vertices that share a place without being one.
func Round32(m solid.Mesh) (solid.Mesh, Rounding, error) {
	opposite, err := m.Opposites()
	if err != nil {
		return solid.Mesh{}, Rounding{}, &RoundingError{Err: err}
	}
	r := newRounder(m, opposite)
	if r.err != nil {
		return solid.Mesh{}, r.done, &RoundingError{r.done, r.err}
	}
	for range maxRounds {
		r.settle()
		if !r.separate() && !r.divideCrowded() {
			break
		}
	}
	out := r.mesh().Weld()
	faults := out.Check()
	sound := len(faults) > 0 && m.Closed()
	for before := math.MaxInt; sound && len(faults) > 0 && len(out.Triangles) < before; {
		before = len(out.Triangles)
		out = dropFlat(out, faults, &r.done)
		faults = out.Check()
	}
	if len(faults) > 0 {
		return solid.Mesh{}, r.done, &RoundingError{r.done, &solid.NotSolidError{Faults: faults}}
	}
	return out, r.done, nil
}

// dropFlat takes away the components that rounding turned inside out: the solid
// was sound before, so they were slivers thinner than the steps of single
// precision.
func dropFlat(m solid.Mesh, faults []solid.Fault, done *Rounding) solid.Mesh {
	opposite, err := m.Opposites()
	if err != nil {
		return m
	}
	drop := make([]bool, len(m.Triangles))
	for _, f := range faults {
		if f.Kind != solid.InsideOut {
			continue
		}
		done.Vanished++
		drop[f.Triangle] = true
		for todo := []int32{f.Triangle}; len(todo) > 0; {
			t := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for k := range int32(3) {
				if u := opposite[3*t+k] / 3; !drop[u] {
					drop[u] = true
					todo = append(todo, u)
				}
			}
		}
	}
	out := solid.Mesh{Vertices: m.Vertices}
	for t, c := range m.Triangles {
		if !drop[t] {
			out.Triangles = append(out.Triangles, c)
		}
	}
	return out.Weld()
}
