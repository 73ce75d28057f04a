package solid

import "context"

// simplifyFlat divides flat regions into as few triangles as their outlines
// allow, and returns how many regions it did that to.
//
// Every region is one planar problem of its own, so they are done side by side;
// all they share are the vertices along creases, decided once for both sides. A
// region whose outline can't be divided, where rounding made it cross itself, or
// whose division would give an edge four triangles, is left as it is, with all
// its vertices; that changes its neighbours, so everything is done again.
func (k Kernel) simplifyFlat(ctx context.Context, m Mesh) (Mesh, int, error) {
	opposite, err := m.Opposites()
	if err != nil {
		return Mesh{}, 0, err
	}
	g := newFlatGround(m, opposite, flatReach(m))
	frozen := make([]bool, len(g.planes))
	for round := 0; ; round++ {
		d := newFlatDivision(g, frozen)
		if len(d.todo) == 0 {
			return m, 0, ctx.Err()
		}
		err := k.each(ctx, "flat regions", len(d.todo), flatGrain, func(lo, hi int) {
			for i := lo; i < hi; i++ {
				d.made[i] = d.divide(d.todo[i])
			}
		})
		if err != nil {
			return Mesh{}, 0, err
		}
		bad := d.undivided()
		if len(bad) == 0 {
			out, from := d.result()
			if bad = d.faulty(out, from); len(bad) == 0 {
				return out, len(d.todo), nil
			}
		}
		for _, r := range bad {
			frozen[r] = true
			if round >= flatRounds {
				d.freezeAround(r)
			}
		}
	}
}

const (
	// flatGrain is the number of regions of a run; most are small.
	flatGrain = 64
	// flatRounds is how often regions are left alone one by one before their
	// neighbours are as well, so that what can't be divided spreads and ends.
	flatRounds = 6
)

// flatDivision is one attempt.
type flatDivision struct {
	*creases
	frozen []bool
	todo   []int32      // the regions that lose a vertex
	first  []int32      // of a region: where its half-edges begin in edges
	edges  []int32      // half-edges along creases, by region
	made   [][][3]int32 // of todo: the new triangles; nil: it can't be done
	place  []int32      // of a region: its place in todo, or −1
}

func newFlatDivision(g *flatGround, frozen []bool) *flatDivision {
	d := &flatDivision{creases: newCreases(g, frozen), frozen: frozen}
	loses := make([]bool, len(g.planes))
	d.first = make([]int32, len(g.planes)+1)
	for t, r := range g.region {
		for k, v := range g.mesh.Triangles[t] {
			loses[r] = loses[r] || !d.keep[v]
			if g.crease(int32(3*t + k)) {
				d.first[r+1]++
			}
		}
	}
	for r := range g.planes {
		d.first[r+1] += d.first[r]
	}
	d.edges = make([]int32, d.first[len(g.planes)])
	fill := append([]int32(nil), d.first...)
	for h := range int32(len(g.opposite)) {
		if g.crease(h) {
			r := g.region[h/3]
			d.edges[fill[r]] = h
			fill[r]++
		}
	}
	d.place = make([]int32, len(g.planes))
	for r := range d.place {
		d.place[r] = -1
		if loses[r] {
			d.place[r] = int32(len(d.todo))
			d.todo = append(d.todo, int32(r))
		}
	}
	d.made = make([][][3]int32, len(d.todo))
	return d
}

// divide returns the triangles of a region, nil where that can't be done.
func (d *flatDivision) divide(r int32) [][3]int32 {
	loops := d.loops(r)
	// A region is connected: one loop is the outer one, the rest are holes.
	plane := d.planes[r]
	outer := -1
	flat := make([][]Point, len(loops))
	for i, l := range loops {
		if len(l) < 3 {
			return nil
		}
		for _, v := range l {
			flat[i] = append(flat[i], plane.shadow(d.mesh.Vertices[v]))
		}
		switch area := loopArea(flat[i]); {
		case area > 0 && outer < 0:
			outer = i
		case !(area < 0):
			return nil
		}
	}
	if outer < 0 {
		return nil
	}
	flat[0], flat[outer] = flat[outer], flat[0]
	loops[0], loops[outer] = loops[outer], loops[0]
	var vertices []int32
	var points []Point
	for i, l := range loops {
		vertices, points = append(vertices, l...), append(points, flat[i]...)
	}
	// Triangles that all run anticlockwise and whose edges are the outline's or
	// shared by two cover what the outline goes round, once.
	triangles := triangulate(flat, 0, nil).triangles
	for i, t := range triangles {
		if Orient(points[t[0]], points[t[1]], points[t[2]]) != CounterClockwise {
			return nil
		}
		triangles[i] = [3]int32{vertices[t[0]], vertices[t[1]], vertices[t[2]]}
	}
	return triangles
}

// loops follows the outline of a region, the region to its left, and returns the
// vertices that stay.
func (d *flatDivision) loops(r int32) [][]int32 {
	edges := d.edges[d.first[r]:d.first[r+1]]
	done := make(map[int32]bool, len(edges)) // only looked up
	var loops [][]int32
	for _, start := range edges {
		if done[start] {
			continue
		}
		var loop []int32
		for h := start; !done[h]; {
			done[h] = true
			if v := d.mesh.tail(h); d.keep[v] {
				loop = append(loop, v)
			}
			// Turn about the head, within the region, to the next edge of the outline.
			for h = nextHalf(h); !d.crease(h); h = nextHalf(d.opposite[h]) {
			}
		}
		loops = append(loops, loop)
	}
	return loops
}

// undivided returns the regions that couldn't be done.
func (d *flatDivision) undivided() []int32 {
	var bad []int32
	for i, r := range d.todo {
		if d.made[i] == nil {
			bad = append(bad, r)
		}
	}
	return bad
}

// result puts the mesh together, region by region where they were divided, and
// says which region each triangle is of.
func (d *flatDivision) result() (out Mesh, from []int32) {
	out.Vertices = append([]Vec(nil), d.mesh.Vertices...)
	put := make([]bool, len(d.todo))
	for t, r := range d.region {
		i := d.place[r]
		switch {
		case i < 0:
			out.Triangles = append(out.Triangles, d.mesh.Triangles[t])
			from = append(from, r)
		case !put[i]:
			put[i] = true
			out.Triangles = append(out.Triangles, d.made[i]...)
			for range d.made[i] {
				from = append(from, r)
			}
		}
	}
	out.dropUnused()
	return out, from
}

// faulty returns the divided regions that have a hand in a fault of the result:
// a new edge along another one, as where a solid touches itself, or a part so
// thin that nothing of it was left.
func (d *flatDivision) faulty(out Mesh, from []int32) []int32 {
	faults := out.Check()
	if len(faults) == 0 {
		return nil
	}
	blamed := make([]bool, len(d.planes))
	label, _ := out.components()
	for _, f := range faults {
		for t, tri := range out.Triangles {
			has := func(v int32) bool { return tri[0] == v || tri[1] == v || tri[2] == v }
			if f.Vertices[0] >= 0 && has(f.Vertices[0]) && has(f.Vertices[1]) ||
				f.Vertices[0] < 0 && label[t] == label[f.Triangle] {
				blamed[from[t]] = true
			}
		}
	}
	var bad []int32
	for r, b := range blamed {
		if b && d.place[r] >= 0 {
			bad = append(bad, int32(r))
		}
	}
	if len(bad) == 0 {
		return d.todo // which one isn't clear
	}
	return bad
}

// freezeAround leaves the neighbours of a region alone too.
func (d *flatDivision) freezeAround(r int32) {
	for _, h := range d.edges[d.first[r]:d.first[r+1]] {
		d.frozen[d.region[d.opposite[h]/3]] = true
	}
}
