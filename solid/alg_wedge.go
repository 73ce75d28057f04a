package solid

import (
	"cmp"
	"slices"
)

// pairWedges decides which fans at a vertex on the plane are one vertex of the
// part. Each fan has one edge of the cap arriving and one leaving. Where several
// fans share a place, the cap there consists of wedges, each from an edge that
// leaves anticlockwise to one that arrives; the fans on both sides of a wedge
// belong to one vertex:
//
//	   \ cap /
//	    \   /          two fans, left and right, and two wedges of cap: one
//	fan   P   fan      vertex, and the loop that passed it twice becomes two
//	    /   \
//	   / cap \
//
// Without this the cap would have to be joined through P by a triangle of no
// width. Where edges lie on each other the fans are left apart.
func (c *half) pairWedges(frame Frame) {
	slices.SortStableFunc(c.copies, func(p, q [2]int32) int { return cmp.Compare(p[0], q[0]) })
	before := make(map[int32]int32, len(c.next))
	for _, v := range c.starts {
		before[c.next[v]] = v
	}
	same := newSets(len(c.out.Vertices))
	leaves := map[int32]int32{} // the copy an edge arrives at → the copy the next one leaves
	for i := 0; i < len(c.copies); {
		j := i
		var fans []int32
		for ; j < len(c.copies) && c.copies[j][0] == c.copies[i][0]; j++ {
			if _, open := c.next[c.copies[j][1]]; open {
				fans = append(fans, c.copies[j][1])
			}
		}
		i = j
		if len(fans) < 2 {
			continue
		}
		for arrive, leave := range c.wedges(frame, fans, before) {
			same.join(fans[arrive], fans[leave])
			leaves[fans[arrive]] = fans[leave]
		}
	}
	if len(leaves) > 0 {
		c.relink(same, leaves)
	}
}

// ray is an edge of the cap seen from the vertex.
type ray struct {
	to      Point
	fan     int
	arrives bool
}

// wedges returns for each fan, by the edge that arrives at it, the fan whose
// edge leaves on the other side of the wedge; nil where the edges don't take
// turns round the vertex.
func (c *half) wedges(frame Frame, fans []int32, before map[int32]int32) []int {
	origin := frame.Flatten(c.out.Vertices[fans[0]])
	var rays []ray
	for i, f := range fans {
		rays = append(rays,
			ray{frame.Flatten(c.out.Vertices[c.next[f]]), i, false},
			ray{frame.Flatten(c.out.Vertices[before[f]]), i, true})
	}
	slices.SortStableFunc(rays, func(p, q ray) int { return aroundOrder(origin, p.to, q.to) })
	out := make([]int, len(fans))
	for i, r := range rays {
		following := rays[(i+1)%len(rays)]
		if r.arrives == following.arrives || aroundOrder(origin, r.to, following.to) == 0 {
			return nil
		}
		if !r.arrives {
			out[following.fan] = r.fan
		}
	}
	return out
}

// aroundOrder compares the directions of p and q from o, anticlockwise from +x.
func aroundOrder(o, p, q Point) int {
	lower := func(a Point) int {
		if a[1] < o[1] || a[1] == o[1] && a[0] < o[0] {
			return 1
		}
		return 0
	}
	if l := cmp.Compare(lower(p), lower(q)); l != 0 {
		return l
	}
	return -int(Orient(o, p, q))
}

// relink gives each set of fans its first one's vertex and links the cap's edges
// wedge by wedge. A vertex may then occur in several loops, so loops are followed
// by the copies and only named by the vertex.
func (c *half) relink(same sets, leaves map[int32]int32) {
	for i, t := range c.out.Triangles {
		c.out.Triangles[i] = [3]int32{same.find(t[0]), same.find(t[1]), same.find(t[2])}
	}
	for v, w := range c.next {
		if l, ok := leaves[w]; ok {
			c.next[v] = l
		}
	}
	ridges := make(map[[2]int32]bool, len(c.ridges))
	for key := range c.ridges {
		ridges[edgeKey(same.find(key[0]), same.find(key[1]))] = true
	}
	c.ridges = ridges
	c.same = same
}
