package solid

import (
	"cmp"
	"math"
	"slices"
)

// part is step 3: fins and inner walls go, and the triangles round each crowded
// edge are paired. Afterwards r.mate is set.
func (r *repair) part() error {
	r.turned = make([]bool, len(r.m.Triangles))
	for {
		r.pairSimple()
		// Within a patch the triangles must agree before their sides can count.
		// Patches of one side only show again when all is paired.
		r.agree()
		if err := r.ctx.Err(); err != nil {
			return err
		}
		if !r.dropWalls() {
			break
		}
	}
	r.pairCrowded()
	return nil
}

// pairSimple makes mates of the two half-edges of every edge that has two.
func (r *repair) pairSimple() {
	r.mate = make([]int32, 3*len(r.m.Triangles))
	for i := range r.mate {
		r.mate[i] = -1
	}
	r.m.eachEdge(func(_, _ int32, halves []int32) {
		if len(halves) == 2 {
			r.pair(halves[0], halves[1])
		}
	})
}

func (r *repair) pair(h, g int32) { r.mate[h], r.mate[g] = g, h }

// patches labels the triangles that hang together by mates.
func (r *repair) patches() (label []int32, n int) {
	sets := newSets(len(r.m.Triangles))
	for h, g := range r.mate {
		if g >= 0 {
			sets.join(int32(h)/3, g/3)
		}
	}
	return sets.labels()
}

// finShare is how much of all area a fin may have. A guess: a larger one was
// meant as something, and a mesh with it is refused as open.
const finShare = 0.05

// bulge is how many times the area of its rim, as a vector, an inner wall may
// have: a half ball has twice. What stands out farther is a body of its own that
// shares its rim with another, and is closed as one.
const bulge = 2

// dropWalls drops, smallest first, patches that end in edges with an odd number
// of triangles, where all their edges are sound or even without them: fins, which
// have open edges too, and the wall that two blocks have in common. It reports
// whether it dropped any; what is left may then hang together in other patches.
func (r *repair) dropWalls() bool {
	type rim struct{ crowd, halves int } // how many half-edges of the edge are the patch's
	var crowds []int                     // triangles at each edge that has not two
	rims := map[int32][]rim{}            // by patch, in the order of the edges
	odd := false
	label, n := r.patches()
	r.m.eachEdge(func(_, _ int32, halves []int32) {
		if len(halves) == 2 {
			return
		}
		odd = odd || len(halves) > 2 && len(halves)%2 == 1
		of := map[int32]int{}
		for _, h := range halves {
			of[label[h/3]]++
		}
		for p, count := range of {
			rims[p] = append(rims[p], rim{len(crowds), count})
		}
		crowds = append(crowds, len(halves))
	})
	if !odd {
		return false
	}
	area, vector, whole := make([]float64, n), make([]Vec, n), 0.0
	for i, t := range r.m.Triangles {
		a, b, c := r.m.corners(t)
		v := b.Sub(a).Cross(c.Sub(a))
		area[label[i]] += v.Length()
		vector[label[i]] = vector[label[i]].Add(v)
		whole += v.Length()
	}
	order := make([]int32, 0, len(rims))
	for p := range int32(n) {
		if len(rims[p]) > 0 {
			order = append(order, p)
		}
	}
	slices.SortStableFunc(order, func(p, q int32) int { return cmp.Compare(area[p], area[q]) })
	gone := make([]bool, n)
	any := false
	for _, p := range order {
		mends, harms, fin := false, false, false
		for _, e := range rims[p] {
			had, left := crowds[e.crowd], crowds[e.crowd]-e.halves
			mends = mends || had > 2 && had%2 == 1
			harms = harms || had > 1 && (left < 2 || left%2 == 1)
			fin = fin || had == 1
		}
		if !mends || harms || fin && area[p] > finShare*whole ||
			!fin && area[p] > (bulge+repairRounding)*vector[p].Length() {
			continue
		}
		for _, e := range rims[p] {
			crowds[e.crowd] -= e.halves
		}
		gone[p], any = true, true
	}
	for i, t := range r.m.Triangles {
		if gone[label[i]] {
			a, b, c := r.m.corners(t)
			r.log.add(WallDropped, a, max(b.Sub(a).Length(), c.Sub(b).Length(), a.Sub(c).Length()))
		}
	}
	n = 0
	for i, turned := range r.turned {
		if !gone[label[i]] {
			r.turned[n] = turned
			n++
		}
	}
	r.turned = r.turned[:n]
	r.keep(func(i int) bool { return !gone[label[i]] })
	return any
}

// pairCrowded makes mates round every edge of more than two triangles.
func (r *repair) pairCrowded() {
	r.over = map[int32]bool{}
	r.m.eachEdge(func(lo, hi int32, halves []int32) {
		if len(halves) < 3 {
			return
		}
		a, b := r.m.Vertices[lo], r.m.Vertices[hi]
		r.log.add(EdgeParted, a.Add(b).Scale(0.5), 0)
		pairs, over := r.wedges(lo, hi, halves)
		for _, p := range pairs {
			r.pair(p[0], p[1])
		}
		for _, h := range over {
			r.over[h] = true
		}
	})
}

// wedges pairs the half-edges round the edge lo–hi so that each pair bounds one
// wedge of material. Seen from hi to lo, the material of a triangle whose
// half-edge runs hi → lo lies on the anticlockwise side of it, of one that runs
// lo → hi on the clockwise side: they open and close a wedge, and pair as
// brackets do.
//
//	     close
//	       |  material
//	       | /
//	lo,hi  o ------ open
//
// Where the brackets don't match, because a triangle lies the wrong way round,
// the rest pairs with its neighbours; one is left over where the number is odd.
func (r *repair) wedges(lo, hi int32, halves []int32) (pairs [][2]int32, over []int32) {
	a := r.m.Vertices[lo]
	axis := r.m.Vertices[hi].Sub(a).Unit()
	type spoke struct {
		half  int32
		opens bool
		angle float64
	}
	away := func(h int32) Vec {
		d := r.m.Vertices[r.m.head(nextHalf(h))].Sub(a)
		return d.Sub(axis.Scale(d.Dot(axis))).Unit()
	}
	x := away(halves[0])
	y := axis.Cross(x)
	spokes := make([]spoke, len(halves))
	for i, h := range halves {
		d := away(h)
		angle := math.Atan2(d.Dot(y), d.Dot(x))
		if angle < 0 {
			angle += 2 * math.Pi
		}
		spokes[i] = spoke{h, r.m.tail(h) == hi, angle}
	}
	slices.SortFunc(spokes, func(s, t spoke) int {
		if c := cmp.Compare(s.angle, t.angle); c != 0 {
			return c
		}
		if s.opens != t.opens { // a wedge ends before the next begins where two touch
			if t.opens {
				return -1
			}
			return 1
		}
		return cmp.Compare(s.half, t.half)
	})
	// Begin where most brackets are closed, so that none opened earlier is missed.
	depth, least, begin := 0, 0, 0
	for i, s := range spokes {
		if s.opens {
			depth++
		} else {
			depth--
		}
		if depth < least {
			least, begin = depth, i+1
		}
	}
	var open, rest []int32
	for i := range spokes {
		s := spokes[(begin+i)%len(spokes)]
		switch {
		case s.opens:
			open = append(open, s.half)
		case len(open) > 0:
			pairs = append(pairs, [2]int32{open[len(open)-1], s.half})
			open = open[:len(open)-1]
		default:
			rest = append(rest, s.half)
		}
	}
	rest = append(rest, open...)
	for ; len(rest) > 1; rest = rest[2:] {
		pairs = append(pairs, [2]int32{rest[0], rest[1]})
	}
	return pairs, rest
}
