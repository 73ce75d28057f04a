package solid

import (
	"context"
	"math"
)

// Shell hollows a closed solid: the result is its outside, triangle by triangle
// as it was, and a cavity of which no point, corners, edges and the inside of
// triangles alike, is nearer to the outside than Wall. What is too thin to be
// hollow stays full. A cavity that is there already counts as outside.
//
// The other way round, every point of the solid at a depth of Wall + 1.2·Cell or
// more is in the cavity, unless it is in one smaller than a cell: inner edges and
// corners come out as chamfers, flat walls at their thickness to a sixteen
// thousandth of a cell.
//
// The cavity is the level set of the depth (the distance to the nearest triangle)
// on the tetrahedra of a body-centred cubic lattice, of which only those near the
// level are looked at. Each tetrahedron with corners on both sides holds a
// triangle or a quadrilateral with corners on its edges: so the surface is closed
// and doesn't meet itself, whatever the depths (A. Doi and A. Koide, "An efficient
// method of triangulating equi-valued surfaces by using tetrahedral cells", IEICE
// Trans. E74 (1991) 214–224; the lattice after F. Labelle and J. R. Shewchuk,
// "Isosurface stuffing", ACM Trans. Graph. 26 (2007) 57). Depths in between are
// not guessed: see alg_shell_wall.go.
//
// The errors: a [*NotSolidError] for a mesh that [Mesh.Check] finds fault with; a
// [*ValueError] for a wall or cell that can't be, too fine for the size or too
// far from the origin; or the context's.
func (k Kernel) Shell(ctx context.Context, m Mesh, o ShellOptions) (Mesh, ShellReport, error) {
	fail := func(err error) (Mesh, ShellReport, error) { return Mesh{}, ShellReport{}, err }
	if o.Cell == 0 {
		o.Cell = o.Wall / 3
	}
	if err := o.check(m); err != nil {
		return fail(err)
	}
	if err := m.Solid(); err != nil {
		return fail(err)
	}
	tree, err := k.Tree(ctx, m)
	if err != nil {
		return fail(err)
	}
	report := ShellReport{Cell: o.Cell, Before: m.Volume()}
	report.After = report.Before
	s := newShell(k, tree, o)
	if err := s.findPoints(ctx); err != nil {
		return fail(err)
	}
	if err := s.findWall(ctx); err != nil {
		return fail(err)
	}
	cavity := s.cavity(&report)
	if cavity.Empty() {
		return m, report, ctx.Err()
	}
	report.After += cavity.Volume()
	return Join(m, cavity), report, ctx.Err()
}

func (o ShellOptions) check(m Mesh) error {
	if !(o.Wall > 0) || math.IsInf(o.Wall, 1) {
		return &ValueError{"Wall", o.Wall, "positive and finite"}
	}
	if !(o.Cell > 0) || o.Cell > o.Wall/2 {
		return &ValueError{"Cell", o.Cell, "positive and at most half the wall"}
	}
	b := m.Bounds()
	far := 0.0
	for k := range 3 {
		far = max(far, math.Abs(b.Min[k]), math.Abs(b.Max[k]))
		if size := b.Max[k] - b.Min[k]; size > o.Cell*shellMostCells {
			return &ValueError{"Cell", o.Cell, "larger (over a million cells along the solid)"}
		}
	}
	if o.Cell*shellEnd < shellRoundings*far {
		return &ValueError{"Cell", o.Cell, "larger so far from the origin"}
	}
	return nil
}

const (
	// shellMostCells keeps twice a cell's number within 21 bits.
	shellMostCells = 1 << 20
	// shellMostBlocks bounds the memory: half a gigabyte of blocks, at most as much
	// again for what is kept of them.
	shellMostBlocks = 1 << 24
	// shellEnd is how near, in shares of an edge, a corner of the cavity may come
	// to a point of the lattice.
	shellEnd = 0x1p-10
	// shellRoundings is the least distance two corners of the cavity may have, as
	// a share of the largest coordinate: a thousand roundings of 2⁻⁵³.
	shellRoundings = 0x1p-43
	// shellFine is how much deeper than asked a corner may lie, in cells.
	shellFine = 0x1p-14
)

// shell is a cavity in the making.
type shell struct {
	Kernel
	tree       *Tree
	wall, cell float64
	// least is the depth that is asked of a corner first: the wall, and what the
	// rounding of distances may take from it.
	least float64
	// safe is the depth of its corners at which a triangle is nowhere nearer to the
	// outside than wall, wherever in the lattice it is; sure is the depth at which a
	// point of the lattice is that of a safe corner at the end of an edge.
	safe, sure float64
	slack      float64 // more than the rounding of a distance

	origin Vec     // of the lattice
	unit   float64 // half a cell
	levels int     // the root block is 2^levels cells wide
	points shellPoints
	shellSurface
}

func newShell(k Kernel, tree *Tree, o ShellOptions) *shell {
	s := &shell{Kernel: k, tree: tree, wall: o.Wall, cell: o.Cell, unit: o.Cell / 2}
	b := tree.bounds
	size, far := 0.0, 0.0
	for k := range 3 {
		size = max(size, b.Max[k]-b.Min[k])
		far = max(far, math.Abs(b.Min[k]), math.Abs(b.Max[k]))
	}
	s.slack = 0x1p-30*o.Wall + 0x1p-45*far
	s.least = o.Wall + s.slack
	// See alg_shell_wall.go for the square root.
	s.safe = math.Sqrt(float64(s.least*s.least)+float64(o.Cell*o.Cell)/3) + s.slack
	s.sure = s.safe + float64(shellEnd*o.Cell) + s.slack
	for float64(int(1)<<s.levels)*o.Cell < size {
		s.levels++
	}
	half := float64(int(1)<<s.levels) / 2 * o.Cell
	s.origin = b.Min.Add(b.Max).Scale(0.5).Sub(Vec{half, half, half})
	return s
}

// cavity puts the surface together, facing inwards, less what is smaller than a
// cell. That is never a cavity with an island of the wall in it: an island has
// the wall's thickness about every point of its old surface.
func (s *shell) cavity(report *ShellReport) Mesh {
	whole := Mesh{Vertices: s.place, Triangles: make([][3]int32, 0, 2*len(s.faces))}
	near := make([]float64, 0, 2*len(s.faces))
	for i, f := range s.faces {
		for _, t := range s.split(f) {
			whole.Triangles = append(whole.Triangles, t)
			near = append(near, s.near[i])
		}
	}
	label, n := whole.components()
	volume := make([]sum, n)
	for i, t := range whole.Triangles {
		a, b, c := whole.corners(t)
		a, b, c = a.Sub(s.origin), b.Sub(s.origin), c.Sub(s.origin)
		volume[label[i]].add(a.Dot(b.Cross(c)) / 6)
	}
	fill := make([]bool, n)
	for l := range volume {
		v := volume[l].value()
		switch {
		case v <= 0 && v > -s.cell*s.cell*s.cell:
			fill[l] = true
			report.Filled++
		case v < 0:
			report.Cavities++
		}
	}
	out := Mesh{Vertices: append([]Vec(nil), whole.Vertices...)}
	report.Thinnest = math.Inf(1)
	for i, t := range whole.Triangles {
		if fill[label[i]] {
			continue
		}
		out.Triangles = append(out.Triangles, t)
		if near[i] < report.Thinnest {
			a, b, c := whole.corners(t)
			report.Thinnest, report.At = near[i], a.Add(b).Add(c).Scale(1.0/3)
		}
		for _, v := range t {
			report.Thickest = max(report.Thickest, s.depth[v])
		}
	}
	if out.Empty() {
		report.Thinnest = 0
	}
	out.dropUnused()
	return out
}
