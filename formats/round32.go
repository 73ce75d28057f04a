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
	for before := math.MaxInt; len(faults) > 0 && len(out.Triangles) < before; {
		before = len(out.Triangles)
		out = dropFlat(out, faults, sound, &r.done)
		faults = out.Check()
	}
	if len(faults) > 0 {
		return solid.Mesh{}, r.done, &RoundingError{r.done, &solid.NotSolidError{Faults: faults}}
	}
	return out, r.done, nil
}

// dropFlat takes away the components that are inside out: all of them where the
// solid was sound before, for then rounding turned them and they were slivers
// thinner than its steps; else those that are so thin.
func dropFlat(m solid.Mesh, faults []solid.Fault, sound bool, done *Rounding) solid.Mesh {
	opposite, err := m.Opposites()
	if err != nil {
		return m
	}
	drop := make([]bool, len(m.Triangles))
	for _, f := range faults {
		if f.Kind != solid.InsideOut {
			continue
		}
		part := componentOf(f.Triangle, opposite)
		if !sound && !thin(m, part) {
			continue
		}
		done.Vanished++
		for _, t := range part {
			drop[t] = true
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

// componentOf returns the triangles that hang together with one.
func componentOf(first int32, opposite []int32) []int32 {
	seen := map[int32]bool{first: true} // only looked up
	part := []int32{first}
	for i := 0; i < len(part); i++ {
		for k := range int32(3) {
			if u := opposite[3*part[i]+k] / 3; !seen[u] {
				seen[u] = true
				part = append(part, u)
			}
		}
	}
	return part
}

// thin reports whether what the triangles enclose, spread over their area, is no
// thicker than a step of single precision where they lie.
func thin(m solid.Mesh, part []int32) bool {
	const step = 0x1p-23 // between neighbours in [1, 2)
	alone := solid.Mesh{Vertices: m.Vertices}
	for _, t := range part {
		alone.Triangles = append(alone.Triangles, m.Triangles[t])
	}
	far := 0.0
	box := alone.Bounds()
	for k := range 3 {
		far = max(far, math.Abs(box.Min[k]), math.Abs(box.Max[k]))
	}
	return math.Abs(alone.Volume()) <= alone.Area()*step*far
}
