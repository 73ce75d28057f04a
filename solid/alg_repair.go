package solid

import (
	"context"
	"math"
	"slices"
)

// repairRounding bounds, relative to the extent, the rounding of a distance
// computed from two coordinates: some tens of units of 2⁻⁵³.
const repairRounding = 0x1p-46

// repairGrain is after how many vertices or edges of the slow loops the context
// is looked at: some milliseconds of work.
const repairGrain = 1 << 12

// repairRungs are the distances tried where no Near is given, relative to the
// diagonal of the bounds. A float32 is rounded to 2⁻²⁴ of itself, each of three
// coordinates and at both vertices: 2⁻²² together. Four printed digits are
// rounded to 2⁻¹⁴.
var repairRungs = [...]float64{0x1p-22, 0x1p-20, 0x1p-18, 0x1p-16, 0x1p-14}

// repairDefaultHole is LargestHole where none is given. A guess: the openings of
// cups, pipes and sheets have shares from 1/2 up, patches a file lost are far
// below, and what is near a quarter a person should look at.
const repairDefaultHole = 0.25

// Repair makes a solid of triangles as files hold them, and tells what it
// changed, by kind in the order of the constants. A mesh that [Mesh.Check] finds
// nothing wrong with, and whose shells don't overlap, comes back as it is; so
// does what Repair returned. Otherwise these are the steps, each a file:
//
//  1. Triangles that mean nothing are dropped: bad indices, no numbers.
//  2. Vertices on open edges are welded where they are equal, then merged where
//     they are near; and triangles are dropped that have no area or lie on
//     another, and edges divided at vertices that lie on them.
//  3. Where more than two triangles meet in an edge, fins and inner walls are
//     dropped, and what is left is sorted round the edge into solid wedges.
//  4. Triangles are turned to agree with their neighbours.
//  5. Small holes are closed. Large ones are refused: an open surface bounds no
//     solid, and closing it would be inventing one.
//  6. Vertices in which a surface touches itself are split.
//  7. Shells are turned right side out: the outermost outwards, those inside
//     another as they lay relative to it in the file, so cavities stay cavities.
//  8. Shells that are copies of each other or hold no volume are dropped, and
//     shells that overlap united.
//  9. Where the surface still passes through itself that is told.
//
// What is sound is left alone: a vertex moves only if it is on an open edge, and
// never by more than RepairOptions.Near.
//
// The error is a [*RepairError], a [*ValueError] for an impossible option, or
// that of ctx; the changes are then those made until it was found.
func (k Kernel) Repair(ctx context.Context, m Mesh, o RepairOptions) (Mesh, []Change, error) {
	if !(o.Near >= 0) || math.IsInf(o.Near, 1) {
		return Mesh{}, nil, &ValueError{Name: "Near", Value: o.Near, Want: "0 or a distance"}
	}
	if !(o.LargestHole >= 0 && o.LargestHole <= 1) {
		return Mesh{}, nil, &ValueError{Name: "LargestHole", Value: o.LargestHole, Want: "a share from 0 to 1"}
	}
	if o.LargestHole == 0 {
		o.LargestHole = repairDefaultHole
	}
	r := &repair{k: k, ctx: ctx, o: o}
	if err := r.step("check", func() error { r.sound = m.Closed(); return nil }); err != nil {
		return Mesh{}, nil, err
	}
	r.m = Mesh{slices.Clone(m.Vertices), slices.Clone(m.Triangles)}
	err := r.run()
	if err == nil && r.sound && !r.log.changed() {
		return m, r.log.changes(), nil
	}
	if err != nil {
		return Mesh{}, r.log.changes(), err
	}
	return r.m, r.log.changes(), nil
}

// repair is a mesh under repair. From step 3 on mate says which half-edge lies
// across from which (−1: none); the vertices an edge has no longer do, since four
// triangles may share two vertices and still be two solids that touch.
type repair struct {
	k      Kernel
	ctx    context.Context
	o      RepairOptions
	m      Mesh // our own, changed in place
	mate   []int32
	turned []bool         // of a triangle, in steps 3 and 4
	over   map[int32]bool // half-edges left over at a crowded edge, from step 3 on; only looked up
	extent float64        // diagonal of the bounds
	near   float64        // the merging distance at work
	sound  bool           // the mesh given was
	log    repairLog
}

type repairStep struct {
	name string
	work func() error
}

func (r *repair) run() error {
	steps := r.mending()
	if r.sound {
		steps = nil // all but the shells is known to be right
	}
	steps = append(steps,
		repairStep{"shells", r.tidyShells}, repairStep{"check", r.judge}, repairStep{"cross", r.tellCrossings})
	return r.take(steps)
}

// mending returns steps 1 to 7.
func (r *repair) mending() []repairStep {
	return []repairStep{
		{"drop", r.dropUnusable},
		{"join", r.join},
		{"part", r.part},
		{"orient", r.orient},
		{"close", r.closeHoles},
		{"split", r.splitPinched},
		{"compact", r.compact},
		{"turn out", r.turnOut},
	}
}

func (r *repair) take(steps []repairStep) error {
	for _, s := range steps {
		if err := r.step(s.name, s.work); err != nil {
			return err
		}
	}
	return nil
}

// step runs one step, tells of it, and looks at the context first.
func (r *repair) step(name string, work func() error) error {
	var failed error
	if err := r.k.each(r.ctx, "repair: "+name, 1, 1, func(_, _ int) { failed = work() }); err != nil {
		return err
	}
	return failed
}

// judge holds the result to the definition.
func (r *repair) judge() error {
	if r.sound && !r.log.changed() {
		return nil
	}
	if r.m.Empty() {
		return &RepairError{Reason: NothingLeft}
	}
	if faults := r.m.Check(); len(faults) > 0 {
		return &RepairError{Reason: FaultsRemain, At: faults[0].At, Faults: faults}
	}
	return nil
}

// refuse returns the error for a reason, with the faults of the mesh as it is.
func (r *repair) refuse(reason RefusalReason, at Vec, size float64) error {
	return &RepairError{Reason: reason, At: at, Size: size, Faults: r.m.Check()}
}

// repairLog gathers changes by kind.
type repairLog [numberOfChangeKinds + 1]Change

func (l *repairLog) add(kind ChangeKind, at Vec, size float64) {
	c := &l[kind]
	if c.Count == 0 {
		c.At = at
	}
	c.Kind = kind
	c.Count++
	c.Size = max(c.Size, size)
}

func (l *repairLog) changed() bool {
	return slices.ContainsFunc(l[:CrossingsLeft], func(c Change) bool { return c.Count > 0 })
}

func (l *repairLog) changes() []Change {
	var out []Change
	for _, c := range l {
		if c.Count > 0 {
			out = append(out, c)
		}
	}
	return out
}
