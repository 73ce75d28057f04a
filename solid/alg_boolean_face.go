package solid

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// outline is a side of a piece as an edge of the face that has it there.
type outline struct {
	from, to int32
	name     int32 // 2·piece, + 1 on its right
}

// filled is a run of divided faces in triangles of the result's vertices. Twins
// count from the run's first half-edge; ^name where the twin is the other side of
// a piece. Two sides of pieces that enclose nothing between them are paired in
// folds.
type filled struct {
	patch
	source []int32 // of a triangle, the face it is part of
	folds  [][2]int32
}

// facesRun is the number of faces filled in one go.
const facesRun = 32

// fillFaces fills every divided face.
func (k Kernel) fillFaces(ctx context.Context, d *division) ([]filled, error) {
	// The sides of the pieces in the order of the faces, by a counting sort.
	start := make([]int32, len(d.divided)+1)
	for _, p := range d.pieces {
		start[p.left+1]++
		start[p.right+1]++
	}
	for f := range d.divided {
		start[f+1] += start[f]
	}
	sides := make([]outline, 2*len(d.pieces))
	next := slices.Clone(start)
	for i, p := range d.pieces {
		sides[next[p.left]] = outline{p.start, p.end, int32(2 * i)}
		next[p.left]++
		sides[next[p.right]] = outline{p.end, p.start, int32(2*i + 1)}
		next[p.right]++
	}
	var faces []int32
	for f, divided := range d.divided {
		if divided && start[f] < start[f+1] {
			faces = append(faces, int32(f))
		}
	}
	out := make([]filled, (len(faces)+facesRun-1)/facesRun)
	err := k.each(ctx, "divide faces", len(faces), facesRun, func(lo, hi int) {
		run := &out[lo/facesRun]
		for _, f := range faces[lo:hi] {
			d.fill(run, f, sides[start[f]:start[f+1]])
		}
	})
	return out, err
}

// fill adds what is left of one face, seen along the axis nearest to its normal.
func (d *division) fill(run *filled, f int32, sides []outline) {
	flat := d.flatten(f)
	loops := findLoops(sides, flat)
	for _, group := range groupLoops(loops, flat) {
		var points [][]Point
		var names, vertices []int32
		for _, l := range group {
			loop := make([]Point, len(l))
			for i, s := range l {
				loop[i] = flat(s.from)
				vertices, names = append(vertices, s.from), append(names, s.name)
			}
			points = append(points, loop)
		}
		if len(names) == 2 {
			run.folds = append(run.folds, [2]int32{names[0], names[1]})
			continue
		}
		base := int32(len(run.twin))
		p := triangulate(points, d.reach, vertices)
		for _, t := range p.triangles {
			run.triangles = append(run.triangles, [3]int32{vertices[t[0]], vertices[t[1]], vertices[t[2]]})
			run.source = append(run.source, f)
		}
		for _, o := range p.twin {
			if o < 0 {
				o = ^names[^o]
			} else {
				o += base
			}
			run.twin = append(run.twin, o)
		}
	}
}

// flatten returns the view of face f along the axis nearest to its normal, in
// which what the result has of the face runs anticlockwise.
func (d *division) flatten(f int32) func(v int32) Point {
	i, j := d.plane(f).axes()
	return func(v int32) Point { return Point{d.points[v][i], d.points[v][j]} }
}

// plane returns face f as the result has it: what is left of a cutter is turned
// over.
func (d *division) plane(f int32) facePlane {
	o := &d.sides[0]
	if f >= d.sides[1].base {
		o = &d.sides[1]
	}
	f -= o.base
	a, b, c := o.corners(o.Triangles[f])
	p := facePlane{o.faceNormal(f), [3]Vec{a, b, c}}
	if o.turned {
		p.normal = p.normal.Scale(-1)
	}
	return p
}

// axes returns the two axes that are left when looking along the one nearest to
// the normal, in the order in which the face runs anticlockwise.
func (p facePlane) axes() (i, j int) {
	axis := longestAxis(Vec{math.Abs(p.normal[0]), math.Abs(p.normal[1]), math.Abs(p.normal[2])})
	if p.normal[axis] < 0 {
		return (axis + 2) % 3, (axis + 1) % 3
	}
	return (axis + 1) % 3, (axis + 2) % 3
}

// findLoops follows sides from end to start. Where several leave a vertex it takes
// the sharpest turn to the left, so that loops touch there but don't cross.
func findLoops(sides []outline, flat func(int32) Point) [][]outline {
	sides = slices.Clone(sides)
	slices.SortFunc(sides, func(a, b outline) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.name, b.name)) })
	used := make([]bool, len(sides))
	follow := func(s outline) int {
		i, _ := slices.BinarySearchFunc(sides, s.to, func(t outline, v int32) int { return cmp.Compare(t.from, v) })
		best, least := -1, math.Inf(1)
		back := flat(s.from).sub(flat(s.to))
		for ; i < len(sides) && sides[i].from == s.to; i++ {
			if used[i] {
				continue
			}
			ahead := flat(sides[i].to).sub(flat(s.to))
			turn := math.Atan2(cross2(ahead, back), dot2(ahead, back)) // clockwise from back
			if turn <= 0 {
				turn += 2 * math.Pi
			}
			if turn < least {
				best, least = i, turn
			}
		}
		return best
	}
	var loops [][]outline
	for first := range sides {
		if used[first] {
			continue
		}
		// As many sides arrive at a vertex as leave it, so the walk only ends
		// where it began; the first side stays free until then.
		loop := []outline{sides[first]}
		for i := follow(sides[first]); i != first; i = follow(sides[i]) {
			used[i] = true
			loop = append(loop, sides[i])
		}
		used[first] = true
		loops = append(loops, loop)
	}
	return loops
}

// groupLoops puts each hole with the smallest loop round it. A loop that runs
// clockwise and lies in no other, as a sliver may after rounding, stays alone.
func groupLoops(loops [][]outline, flat func(int32) Point) [][][]outline {
	if len(loops) == 1 {
		return [][][]outline{loops}
	}
	points, area := make([][]Point, len(loops)), make([]float64, len(loops))
	for l, loop := range loops {
		for _, s := range loop {
			points[l] = append(points[l], flat(s.from))
		}
		area[l] = loopArea(points[l])
	}
	group := make([]int, len(loops)) // of a hole: the loop round it; of others: itself
	for l := range loops {
		group[l] = l
		if area[l] > 0 {
			continue
		}
		for m := range loops {
			if area[m] > 0 && (group[l] == l || area[m] < area[group[l]]) && holds(points[m], points[l]) {
				group[l] = m
			}
		}
	}
	var out [][][]outline
	for l, loop := range loops {
		if group[l] != l {
			continue
		}
		one := [][]outline{loop}
		for m := range loops {
			if group[m] == l && m != l {
				one = append(one, loops[m])
			}
		}
		out = append(out, one)
	}
	return out
}

// holds reports whether a loop lies in another one: whether the first of its
// corners and middles that isn't on the outer one is inside. A loop that follows
// the outer one all the way is inside, and leaves nothing between.
func holds(outer, loop []Point) bool {
	for _, p := range loop {
		if side := locate(p, outer); side != onEdge {
			return side == inside
		}
	}
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		if side := locate(Point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}, outer); side != onEdge {
			return side == inside
		}
	}
	return true
}
