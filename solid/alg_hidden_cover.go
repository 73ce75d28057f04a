package solid

import (
	"context"
	"math"
	"slices"
)

// stretch is a part of an edge, from 0 to 1 along it.
type stretch struct{ from, to float64 }

// edgePiece is a stretch of an edge that is all seen or all hidden.
type edgePiece struct {
	edge int32
	stretch
	hidden bool
}

// edgeGrain is the number of edges of a run, of some tens of microseconds each.
const edgeGrain = 1 << 7

// scenePieces cuts every edge where something starts or ends to cover it.
func (k Kernel) scenePieces(ctx context.Context, s *scene) ([]edgePiece, error) {
	tree, err := k.Tree(ctx, s.mesh)
	if err != nil {
		return nil, err
	}
	found := make([][]edgePiece, (len(s.edges)+edgeGrain-1)/edgeGrain)
	err = k.each(ctx, "hidden lines", len(s.edges), edgeGrain, func(lo, hi int) {
		c := coverer{scene: s, tree: tree, done: ctx.Done()}
		var out []edgePiece
		for i := lo; i < hi; i++ {
			out = c.pieces(int32(i), out)
		}
		found[lo/edgeGrain] = out
	})
	if err != nil {
		return nil, err
	}
	return slices.Concat(found...), nil
}

// coverer finds what covers edges, one after the other.
type coverer struct {
	scene *scene
	tree  *Tree
	done  <-chan struct{}
	looks int

	covered []stretch
	equal   float64 // s.near as a share of the edge
	lowest  float64
	edge    *sceneEdge
	d       Vec     // to − from
	norm    float64 // length on the paper
	stopped bool
}

func (c *coverer) pieces(i int32, out []edgePiece) []edgePiece {
	e := &c.scene.edges[i]
	c.edge, c.d = e, e.to.Sub(e.from)
	c.norm = math.Hypot(c.d[0], c.d[1])
	if c.norm <= c.scene.near || c.stopped {
		return out // seen end-on
	}
	c.equal = c.scene.near / c.norm
	c.lowest = min(e.from[2], e.to[2])
	c.covered = c.covered[:0]
	c.walk()
	at := 0.0
	for _, h := range joined(c.covered, c.equal) {
		if h.from > at {
			out = append(out, edgePiece{i, stretch{at, h.from}, false})
		}
		out = append(out, edgePiece{i, h, true})
		at = h.to
	}
	if at < 1 {
		out = append(out, edgePiece{i, stretch{at, 1}, false})
	}
	return out
}

// joined returns the union of stretches, in order. What is shorter than equal is
// no gap, and then no stretch: neither a gap nor a stretch remains that nobody
// could tell from a rounding.
func joined(all []stretch, equal float64) []stretch {
	slices.SortFunc(all, func(a, b stretch) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		default:
			return 0
		}
	})
	n := 0
	for _, x := range all {
		if n > 0 && x.from-all[n-1].to <= equal {
			all[n-1].to = max(all[n-1].to, x.to)
			continue
		}
		if n == 0 && x.from <= equal {
			x.from = 0
		}
		all[n] = x
		n++
	}
	keep := all[:0]
	for _, x := range all[:n] {
		if x.to >= 1-equal {
			x.to = 1
		}
		if x.to-x.from > equal {
			keep = append(keep, x)
		}
	}
	return keep
}

// walk goes through the triangles that may cover the edge, those nearer to the
// eye first, until all of it is covered.
func (c *coverer) walk() {
	if len(c.tree.nodes) == 0 {
		return
	}
	var room [treeDepth]int32
	stack := append(room[:0], 0)
	for len(stack) > 0 {
		node := &c.tree.nodes[stack[len(stack)-1]]
		stack = stack[:len(stack)-1]
		if c.looks++; c.looks%treeLooks == 0 {
			select {
			case <-c.done:
				c.stopped = true
				return
			default:
			}
		}
		first := 0
		if node.box[0][1][2] < node.box[1][1][2] {
			first = 1
		}
		var down [2]int32
		n := 0
		for j := range 2 {
			child := first ^ j
			if !c.mayMeet(&node.box[child]) {
				continue
			}
			if node.count[child] == 0 {
				down[n] = node.at[child]
				n++
				continue
			}
			for i := node.at[child]; i < node.at[child]+node.count[child]; i++ {
				if c.look(i) {
					return
				}
			}
		}
		for n > 0 { // the nearer one last, so that it is taken first
			n--
			stack = append(stack, down[n])
		}
	}
}

// mayMeet reports whether a box may hold something before the edge: not all
// behind it, and not beside it on the paper.
func (c *coverer) mayMeet(b *treeBox) bool {
	e, near := c.edge, c.scene.near
	if b[1][2] <= c.lowest ||
		b[0][0]-near > max(e.from[0], e.to[0]) || b[1][0]+near < min(e.from[0], e.to[0]) ||
		b[0][1]-near > max(e.from[1], e.to[1]) || b[1][1]+near < min(e.from[1], e.to[1]) {
		return false
	}
	// How far the middle is from the edge's line, against what the box reaches.
	mx, my := (b[0][0]+b[1][0])/2-e.from[0], (b[0][1]+b[1][1])/2-e.from[1]
	off := math.Abs(float64(mx*c.d[1]) - float64(my*c.d[0]))
	reach := float64((b[1][0]-b[0][0])*math.Abs(c.d[1])) + float64((b[1][1]-b[0][1])*math.Abs(c.d[0]))
	return off <= reach/2+2*near*c.norm
}

// look adds what a triangle covers and reports whether the edge is now covered
// from end to end.
func (c *coverer) look(i int32) bool {
	triangle := c.tree.order[i]
	if triangle == c.edge.faces[0] || triangle == c.edge.faces[1] {
		return false
	}
	h, covers := c.cover(triangle)
	if !covers {
		return false
	}
	// Neighbours on the surface often follow each other in the tree.
	if n := len(c.covered); n > 0 {
		last := &c.covered[n-1]
		if h.from <= last.to+c.equal && last.from <= h.to+c.equal {
			last.from, last.to = min(last.from, h.from), max(last.to, h.to)
			return last.from <= c.equal && last.to >= 1-c.equal
		}
	}
	c.covered = append(c.covered, h)
	return h.from <= c.equal && h.to >= 1-c.equal
}

// cover returns the stretch of the edge that lies behind a triangle.
func (c *coverer) cover(triangle int32) (stretch, bool) {
	s, e := c.scene, c.edge
	n := s.normal[triangle]
	if s.facing[triangle] == 0 {
		return stretch{}, false
	}
	t := s.mesh.Triangles[triangle]
	v := [3]*Vec{&s.mesh.Vertices[t[0]], &s.mesh.Vertices[t[1]], &s.mesh.Vertices[t[2]]}
	if max(v[0][2], v[1][2], v[2][2]) <= c.lowest {
		return stretch{}, false
	}
	// 1. The stretch inside it on the paper.
	in, along := stretch{0, 1}, false
	for i := range 3 {
		inside, runs := c.clip(v[i], v[(i+1)%3], n[2] < 0, &in)
		if !inside {
			return stretch{}, false
		}
		along = along || runs
	}
	if along && !c.beside(v, &in) {
		return stretch{}, false
	}
	// 2. Of that, what is behind its plane; how far behind is linear too.
	if n[2] < 0 {
		n = n.Scale(-1)
	}
	from := n.Dot(v[0].Sub(e.from.Add(c.d.Scale(in.from))))
	to := n.Dot(v[0].Sub(e.from.Add(c.d.Scale(in.to))))
	switch {
	case from <= s.near && to <= s.near:
		return stretch{}, false
	case from < -s.near:
		in.from += float64((in.to - in.from) * (from / (from - to)))
	case to < -s.near:
		in.to -= float64((in.to - in.from) * (to / (to - from)))
	}
	return in, true
}

// clip keeps of a stretch what lies on the left of a triangle's edge p–q on the
// paper, or on the right. An edge that runs along p–q counts as inside. Where the
// two cross is a function of the two alone, not of the way p–q runs: so where one
// triangle ends to cover, its neighbour starts, to the last bit.
func (c *coverer) clip(p, q *Vec, right bool, in *stretch) (inside, along bool) {
	if q[0] < p[0] || q[0] == p[0] && (q[1] < p[1] || q[1] == p[1] && q[2] < p[2]) {
		p, q, right = q, p, !right
	}
	x, y := q[0]-p[0], q[1]-p[1]
	e := c.edge
	from := float64(x*(e.from[1]-p[1])) - float64(y*(e.from[0]-p[0]))
	to := float64(x*(e.to[1]-p[1])) - float64(y*(e.to[0]-p[0]))
	// Both are distances times the length of p–q.
	limit := c.scene.near * c.scene.near * (float64(x*x) + float64(y*y))
	if from*from <= limit && to*to <= limit {
		return true, true
	}
	if right {
		from, to = -from, -to
	}
	switch {
	case from <= 0 && to <= 0:
		return false, false
	case from < 0:
		in.from = max(in.from, from/(from-to))
	case to < 0:
		in.to = min(in.to, from/(from-to))
	}
	return in.from < in.to, false
}

// beside keeps of a stretch what lies beside a triangle, as far as that reaches
// along the edge: at the tip of a slim one the edge may run along both sides, and
// nothing else says where the triangle ends.
func (c *coverer) beside(v [3]*Vec, in *stretch) bool {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range v {
		t := (float64((p[0]-c.edge.from[0])*c.d[0]) + float64((p[1]-c.edge.from[1])*c.d[1])) / (c.norm * c.norm)
		low, high = min(low, t), max(high, t)
	}
	in.from, in.to = max(in.from, low), min(in.to, high)
	return in.from < in.to
}
