package solid

import (
	"context"
	"math"
	"slices"
)

// Project returns the edges of solids as they are seen, cut exactly where they
// pass behind a face or come out from behind one. Nothing is sampled: of every
// edge that counts the stretch that each triangle covers is the solution of
// linear equations, and what no triangle covers is visible.
//
// The rules at coincidences; "equal" means within [coincidence] of the size:
//
//  1. A face hides what lies behind it, not what lies in it or in its plane. So
//     an edge where two solids touch is seen, and drawn of both.
//  2. A face covers its own rim. Of two edges that are one line on the paper the
//     rear one is hidden, if its distance is not equal.
//  3. A face seen edge-on looks away from the eye and hides nothing.
//  4. An edge seen end-on is a point and left out.
//
// Laws (each a test): the lengths seen and hidden add up to that of all edges
// that count; moving everything along the view changes no line. Tempting and
// false: that of a solid's silhouette everything is seen; of a torus aslant a
// piece of the inner silhouette is behind the outer.
//
// A mesh may be open and may pass through itself; it has no line where it does.
// The errors are those of [Kernel.Tree] and, with a section, of [Cut], or a
// [*ValueError] for a view or a placement that can't be.
//
// The idea of testing each edge against the faces before it is that of
// L. G. Roberts, "Machine perception of three-dimensional solids", 1963; covered
// stretches instead of a count along the edge (A. Appel, "The notion of
// quantitative invisibility", 1967) because a count once wrong stays wrong.
func (k Kernel) Project(ctx context.Context, solids []Placed, v View) (Projection, error) {
	s, err := k.newScene(ctx, solids, v)
	if err != nil {
		return Projection{}, err
	}
	// 1. Which edges count.
	if err := k.sceneEdges(ctx, s); err != nil {
		return Projection{}, err
	}
	if err := k.sceneCrossings(ctx, s); err != nil {
		return Projection{}, err
	}
	// 2. What covers each.
	pieces, err := k.scenePieces(ctx, s)
	if err != nil {
		return Projection{}, err
	}
	// 3. The pieces in rows.
	out := Projection{Frame: s.frame, Cuts: s.cuts}
	out.Lines = s.chain(pieces)
	return out, ctx.Err()
}

// coincidence is the distance, relative to the diagonal of all solids, at which
// two places count as one: 2⁻³⁰, a micrometre on a piece of 1.1 m. It is 2²⁰
// roundings of that size, so that what was made to touch still does after it was
// turned into the view; and some ten thousandths of a pen's line.
const coincidence = 0x1p-30

// coincidenceAfar is the same relative to the largest coordinate, for what lies
// far from the origin: 2⁷ roundings.
const coincidenceAfar = 0x1p-46

// edgeOnHeight is how high on the paper a face must be not to count as seen
// edge-on, in distances that count as none. It is more than 1: where the line
// along the rear side of a face counts as hidden by what lies along its front
// side, the face must count as edge-on, or neither side is drawn as silhouette.
const edgeOnHeight = 4

// creaseSlack is by how much, in radians, an edge must turn further than asked: a
// round of 12 segments turns by 30° to a rounding, and all its edges or none are
// drawn. A millionth is some 10⁹ roundings and nothing to the eye.
const creaseSlack = 1e-6

// scene is all solids in coordinates of the view: x and y of the paper, z towards
// the eye. Rounding them there is the only place where geometry moves.
type scene struct {
	frame Frame
	ids   []string
	mesh  Mesh
	first []int32 // solid i has the triangles first[i] to first[i+1]−1
	// onCut marks the vertices on the section plane; nil without one.
	onCut  []bool
	cuts   []CutFace
	near   float64 // equal is nearer than this
	crease float64 // cosine of the angle, with its slack
	cutN   Vec     // normal of the section plane, towards the eye

	normal []Vec  // of every triangle, of length 1; zero where it has none
	facing []int8 // 1: looks at the eye, −1: away, 0: seen edge-on, or no normal
	twin   []int32
	edges  []sceneEdge
}

// sceneEdge is an edge that counts.
type sceneEdge struct {
	from, to Vec
	// faces contain the edge and never hide it; −1: none.
	faces        [2]int32
	solid, other int32 // other −1: none
	kind         EdgeKind
}

func (k Kernel) newScene(ctx context.Context, solids []Placed, v View) (*scene, error) {
	frame, err := v.Frame()
	if err != nil {
		return nil, err
	}
	if err := v.check(); err != nil {
		return nil, err
	}
	if err := checkPlaced(solids); err != nil {
		return nil, err
	}
	crease := v.Crease
	if crease == 0 {
		crease = DefaultCrease
	}
	s := &scene{frame: frame, crease: math.Cos(min(crease+creaseSlack, math.Pi)), first: []int32{0}}
	cutting := v.Section != (Plane{})
	section := v.Section
	if cutting && section.Normal.Dot(v.Eye) < 0 {
		section = Plane{section.Normal.Scale(-1), -section.Offset}
	}
	for _, p := range solids {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		m := p.Mesh.Transform(p.At)
		if cutting {
			face, rest, err := s.cutOpen(m, section)
			if err != nil {
				return nil, err
			}
			if len(face) > 0 {
				s.cuts = append(s.cuts, CutFace{Solid: p.ID, Regions: face})
			}
			m = rest
		}
		base := int32(len(s.mesh.Vertices))
		for _, q := range m.Vertices {
			s.mesh.Vertices = append(s.mesh.Vertices, Vec{q.Dot(frame.U), q.Dot(frame.V), q.Dot(frame.N)})
		}
		for _, t := range m.Triangles {
			s.mesh.Triangles = append(s.mesh.Triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
		s.first = append(s.first, int32(len(s.mesh.Triangles)))
		s.ids = append(s.ids, p.ID)
		if cutting {
			s.markCut(m, section)
		}
	}
	if err := s.mesh.checkTree(); err != nil {
		return nil, err // a placement that left the range
	}
	b := s.mesh.Bounds()
	far := 0.0
	for i := range 3 {
		far = max(far, math.Abs(b.Min[i]), math.Abs(b.Max[i]))
	}
	s.near = max(coincidence*b.Size().Length(), coincidenceAfar*far)
	return s, k.sceneNormals(ctx, s)
}

// sceneNormals finds the normal of every triangle, and where it looks. One less
// high than two places that are equal has none: it would be noise.
func (k Kernel) sceneNormals(ctx context.Context, s *scene) error {
	s.normal = make([]Vec, len(s.mesh.Triangles))
	s.facing = make([]int8, len(s.mesh.Triangles))
	return k.each(ctx, "faces", len(s.normal), treeGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			a, b, c := s.mesh.corners(s.mesh.Triangles[i])
			ab, bc, ca := b.Sub(a), c.Sub(b), a.Sub(c)
			n := ab.Cross(c.Sub(a))
			// Twice the area is the longest side times the height on it.
			area := n.Length()
			if area <= s.near*math.Sqrt(max(ab.Dot(ab), bc.Dot(bc), ca.Dot(ca))) {
				continue
			}
			s.normal[i] = n.Scale(1 / area)
			flat := math.Sqrt(max(onPaper2(ab), onPaper2(bc), onPaper2(ca)))
			switch least := edgeOnHeight * s.near * flat; {
			case n[2] > least:
				s.facing[i] = 1
			case n[2] < -least:
				s.facing[i] = -1
			}
		}
	})
}

// onPaper2 is the square of the length on the paper.
func onPaper2(v Vec) float64 { return float64(v[0]*v[0]) + float64(v[1]*v[1]) }

// solidOf returns which solid a triangle is of.
func (s *scene) solidOf(triangle int32) int32 {
	i, found := slices.BinarySearch(s.first, triangle)
	if !found {
		return int32(i - 1)
	}
	for s.first[i+1] == triangle { // solids without triangles
		i++
	}
	return int32(i)
}
