package solid

import "fmt"

// RepairOptions says how far [Kernel.Repair] may go. The zero value suits files
// as they are found.
type RepairOptions struct {
	// Near is the distance, in mm, up to which vertices on open edges are merged
	// and a vertex is taken to lie on another triangle's open edge. 0: as little
	// as closes the mesh. Then 2⁻²², 2⁻²⁰, 2⁻¹⁸, 2⁻¹⁶ and 2⁻¹⁴ of the diagonal of
	// the bounds are tried in turn (for 100 mm from 24 nm to 6 µm: from the
	// rounding of a float32 to that of four printed digits), ending with the first
	// that leaves no open edge. A vertex with triangles all round it never moves.
	Near float64
	// LargestHole is the largest hole that is closed, as a share from 0 to 1 of
	// the shell it is in: of its area and, seen along the hole, of its shadow. A
	// cup, a pipe open at both ends and a single sheet are all opening (share 1,
	// or near it) however long they are; a missing patch is not. 0: 1/4. A hole of
	// three edges, one missing triangle, is closed whatever its share.
	LargestHole float64
	// Strict refuses a solid whose surface still passes through itself; otherwise
	// that is told as [CrossingsLeft].
	Strict bool
}

// ChangeKind says what a repair did.
type ChangeKind uint8

// The kinds of change, in the order they are made.
const (
	TriangleUnusable    ChangeKind = iota + 1 // dropped: a bad index, or a corner that is no number
	VertexUnused                              // dropped: no triangle names it
	VertexWelded                              // merged with one at exactly the same place
	VertexMerged                              // merged with one nearby; size: the widest gap closed
	TriangleDegenerate                        // dropped: its corners lie on a line; size: the longest
	TriangleDuplicate                         // dropped: over the same corners as another
	EdgeDivided                               // a vertex lay on it; size: the farthest off
	WallDropped                               // a triangle of a fin or inner wall; size: the longest edge
	EdgeParted                                // more than two triangles met, sorted into solid wedges
	TriangleFlipped                           // it ran against its neighbours
	HoleClosed                                // size: the longest way round
	LoosePieceDropped                         // an open piece, small beside the solid; size: across
	VertexSplit                               // two fans met in it
	ShellFlipped                              // it was inside out
	FlatShellDropped                          // it held no volume; size: across
	ShellCopyDropped                          // it was the same as another; size: across
	ShellUnited                               // it overlapped another; size: across
	CrossingsLeft                             // no change: pairs of triangles that pass through each other
	numberOfChangeKinds = iota
)

var changeNames = [...]string{
	TriangleUnusable:   "unusable triangle dropped",
	VertexUnused:       "unused vertex dropped",
	VertexWelded:       "equal vertex welded",
	VertexMerged:       "near vertex merged",
	TriangleDegenerate: "degenerate triangle dropped",
	TriangleDuplicate:  "duplicate triangle dropped",
	EdgeDivided:        "edge divided at a vertex on it",
	WallDropped:        "triangle of a fin or inner wall dropped",
	EdgeParted:         "crowded edge parted",
	TriangleFlipped:    "triangle flipped",
	HoleClosed:         "hole closed",
	LoosePieceDropped:  "loose piece dropped",
	VertexSplit:        "pinched vertex split",
	ShellFlipped:       "shell turned right side out",
	FlatShellDropped:   "flat shell dropped",
	ShellCopyDropped:   "copy of a shell dropped",
	ShellUnited:        "overlapping shell united",
	CrossingsLeft:      "crossing left",
}

// String returns the kind in words.
func (k ChangeKind) String() string {
	if k == 0 || int(k) >= len(changeNames) {
		return fmt.Sprintf("ChangeKind(%d)", uint8(k))
	}
	return changeNames[k]
}

// Change is all that a repair did of one kind.
type Change struct {
	Kind  ChangeKind
	Count int
	At    Vec     // of the first one, mm
	Size  float64 // of the largest, mm, where the kind has a size; else 0
}

// String says what was done, how often and where first.
func (c Change) String() string {
	size := ""
	if c.Size > 0 {
		size = fmt.Sprintf(", up to %.3g mm", c.Size)
	}
	return fmt.Sprintf("%s: %d%s, first at (%.6g, %.6g, %.6g)", c.Kind, c.Count, size, c.At[0], c.At[1], c.At[2])
}

// RefusalReason says why a mesh can't be made a solid.
type RefusalReason uint8

// The reasons of a [RepairError].
const (
	NothingLeft     RefusalReason = iota + 1 // no triangle bounds any volume
	CoordinateLarge                          // a coordinate is too large to multiply
	OpenSurface                              // an opening is too large to be a hole; size: its share
	OneSided                                 // the surface has one side only, as a Möbius band
	HoleUnclosable                           // a hole can't be closed without a fold; size: its edges
	SelfCrossing                             // asked to be strict; size: pairs of triangles
	FaultsRemain                             // none of the above, yet no solid
)

var refusalNames = [...]string{
	NothingLeft:     "no triangle bounds any volume",
	CoordinateLarge: "a coordinate is too large to work with",
	OpenSurface:     "the surface is open",
	OneSided:        "the surface has one side only",
	HoleUnclosable:  "a hole can't be closed",
	SelfCrossing:    "the surface passes through itself",
	FaultsRemain:    "faults remain",
}

// String returns the reason in words.
func (r RefusalReason) String() string {
	if r == 0 || int(r) >= len(refusalNames) {
		return fmt.Sprintf("RefusalReason(%d)", uint8(r))
	}
	return refusalNames[r]
}

// RepairError is why [Kernel.Repair] refused. It unwraps to a [*NotSolidError]
// where faults are left; their places are those of the mesh given, but their
// triangles and vertices are numbered as in the work so far.
type RepairError struct {
	Reason RefusalReason
	At     Vec     // where, mm; of an opening a point on its rim
	Size   float64 // see the reasons
	Faults []Fault
}

// Error says why and where.
func (e *RepairError) Error() string {
	at := fmt.Sprintf("(%.6g, %.6g, %.6g)", e.At[0], e.At[1], e.At[2])
	switch e.Reason {
	case OpenSurface:
		return fmt.Sprintf("mesh can't be repaired: %s at %s, the opening is %.0f%% of its shell", e.Reason, at, 100*e.Size)
	case NothingLeft:
		return fmt.Sprintf("mesh can't be repaired: %s", e.Reason)
	default:
		return fmt.Sprintf("mesh can't be repaired: %s, first at %s", e.Reason, at)
	}
}

// Unwrap returns the faults left, if any, as a [*NotSolidError].
func (e *RepairError) Unwrap() error {
	if len(e.Faults) == 0 {
		return nil
	}
	return &NotSolidError{Faults: e.Faults}
}
