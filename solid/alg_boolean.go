package solid

import "context"

// operation is a boolean in numbers: a vertex of P is kept p + both·w times, one
// of Q q + both·w times, where w is how often the other solid winds round it; and
// a place where an edge enters a face changes that by both.
type operation struct {
	p, q, both int32
	grow       float64 // see shadows
}

var (
	union        = operation{p: 1, q: 1, both: -1, grow: 2}
	difference   = operation{p: 1, q: 0, both: -1, grow: -2}
	intersection = operation{p: 0, q: 0, both: 1, grow: -2}
)

// Union returns what is in any of the solids, as one closed solid. Solids that
// share a face become one; solids that share an edge or a vertex only stay two
// components. Of no solids the union is the empty one.
//
// The errors: [*NotSolidError] where a mesh isn't closed, [*ValueError] where solids
// are smaller than 1e-60 or reach beyond 1e50, or the context's.
func (k Kernel) Union(ctx context.Context, solids ...Mesh) (Mesh, error) {
	for _, m := range solids {
		if faults := m.checkNumbers(); len(faults) > 0 {
			return Mesh{}, &NotSolidError{Faults: faults}
		}
	}
	// Solids whose boxes don't touch are united by putting them side by side;
	// what is left is united two by two.
	groups := apart(solids)
	switch len(groups) {
	case 0:
		return Mesh{}, nil
	case 1:
		if _, err := groups[0].Opposites(); err != nil {
			return Mesh{}, err
		}
		return groups[0], nil
	}
	for len(groups) > 1 {
		var fewer []Mesh
		for i := 0; i < len(groups); i += 2 {
			if i+1 == len(groups) {
				fewer = append(fewer, groups[i])
				break
			}
			m, err := k.boolean(ctx, groups[i], groups[i+1], union)
			if err != nil {
				return Mesh{}, err
			}
			fewer = append(fewer, m)
		}
		groups = fewer
	}
	return groups[0], nil
}

// Subtract returns what is in the solid and in none of the cutters. However many
// cutters there are, they are taken away at once. The errors are those of
// [Kernel.Union].
func (k Kernel) Subtract(ctx context.Context, from Mesh, cutters ...Mesh) (Mesh, error) {
	all, err := k.Union(ctx, cutters...)
	if err != nil {
		return Mesh{}, err
	}
	return k.boolean(ctx, from, all, difference)
}

// Intersect returns what is in every one of the solids. Of no solids it is the
// empty one. The errors are those of [Kernel.Union].
func (k Kernel) Intersect(ctx context.Context, solids ...Mesh) (Mesh, error) {
	var out Mesh
	for i, m := range solids {
		if i == 0 {
			out = m
			continue
		}
		var err error
		if out, err = k.boolean(ctx, out, m, intersection); err != nil {
			return Mesh{}, err
		}
	}
	if len(solids) == 1 {
		if _, err := out.Opposites(); err != nil {
			return Mesh{}, err
		}
	}
	return out, nil
}

// apart joins solids whose boxes don't touch, each into the first group that has
// room for it.
func apart(solids []Mesh) []Mesh {
	var groups [][]Mesh
	var boxes [][]Bounds
next:
	for _, m := range solids {
		if m.Empty() {
			continue
		}
		box := m.Bounds()
	group:
		for g := range groups {
			for _, b := range boxes[g] {
				if b.meets(box) {
					continue group
				}
			}
			groups[g], boxes[g] = append(groups[g], m), append(boxes[g], box)
			continue next
		}
		groups, boxes = append(groups, []Mesh{m}), append(boxes, []Bounds{box})
	}
	out := make([]Mesh, len(groups))
	for g, list := range groups {
		out[g] = Join(list...)
		if len(list) == 1 {
			out[g] = list[0]
		}
	}
	return out
}

func newOperand(m Mesh) (*operand, error) {
	opposite, err := m.Opposites()
	if err != nil {
		return nil, err
	}
	o := &operand{
		Mesh: m, opposite: opposite, leaving: make([]int32, len(m.Vertices)),
		outward: make([]once[float64], len(m.Vertices)), normals: make([]once[Vec], len(m.Triangles)),
	}
	for v := range o.leaving {
		o.leaving[v] = -1
	}
	for h := int32(len(opposite)) - 1; h >= 0; h-- {
		o.leaving[m.tail(h)] = h
	}
	return o, nil
}

// shortest is the least size of solids in which no square of a product of two
// lengths, which is what the size of a normal takes, leaves the range of float64;
// the largest is that of a [Tree].
const shortest = 1e-60

func checkSize(box Bounds) error {
	size := box.Size()
	if s := max(size[0], size[1], size[2]); s != 0 && s < shortest {
		return &ValueError{"size of the solids", s, "at least 1e-60"}
	}
	return nil
}

// boolean works in six steps, a file each:
//
//  1. alg_tree, alg_tree_pairs: find the triangles whose boxes meet.
//  2. alg_boolean_shadow, _cross: find where edges pass faces, and which vertices
//     lie inside the other solid.
//  3. alg_boolean_divide: divide edges at those places, keep the parts the
//     operation keeps, and run new edges where faces cross.
//  4. alg_boolean_face: fill the outlines left of each divided face with
//     triangles.
//  5. alg_boolean_join: put whole and divided faces together, side to side.
//  6. alg_tidy: remove what is too short or too flat to mean anything.
func (k Kernel) boolean(ctx context.Context, a, b Mesh, op operation) (Mesh, error) {
	operands, trees := [2]*operand{}, [2]*Tree{}
	var errs [2]error
	err := k.each(ctx, "read solids", 2, 1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			operands[i], errs[i] = newOperand([2]Mesh{a, b}[i])
		}
	})
	for _, e := range append(errs[:], err) {
		if e != nil {
			return Mesh{}, e
		}
	}
	if err := checkSize(a.Bounds().join(b.Bounds())); err != nil {
		return Mesh{}, err
	}
	for i := range trees {
		if trees[i], err = k.Tree(ctx, operands[i].Mesh); err != nil {
			return Mesh{}, err
		}
	}
	s := &shadows{p: operands[0], q: operands[1], grow: op.grow}
	crossP, crossQ, err := k.findCrossings(ctx, s, trees[0], trees[1])
	if err != nil {
		return Mesh{}, err
	}
	windP, err := k.windings(ctx, s.p, crossP, trees[1], true, s.windingOfP)
	if err != nil {
		return Mesh{}, err
	}
	windQ, err := k.windings(ctx, s.q, crossQ, trees[0], false, s.windingOfQ)
	if err != nil {
		return Mesh{}, err
	}
	d := newDivision(s, op, windP, windQ, crossP, crossQ)
	d.divideEdges()
	d.crossFaces()
	d.keepEdges()
	faces, err := k.fillFaces(ctx, d)
	if err != nil {
		return Mesh{}, err
	}
	r := d.join(faces)
	r.tidy(d.plane)
	return r.mesh(), nil
}
