package solid

import "math"

// Nearest is the point of a surface that is nearest to another.
type Nearest struct {
	Distance float64
	Triangle int32
	At       Vec
}

// Nearest returns the point of the surface nearest to p, no farther than within
// (math.Inf(1): no limit), and whether there is one. Of two triangles at the same
// distance it is the lower one. The point lies in its triangle and the distance
// is to that point, to a few roundings; it is never less than the true one by
// more, and a triangle thinner than its roundings counts as its three edges.
func (t *Tree) Nearest(p Vec, within float64) (Nearest, bool, error) {
	for _, x := range p {
		if !(math.Abs(x) <= maxTreeCoordinate) {
			return Nearest{}, false, &ValueError{"coordinate of the point", x, "at most 1e50"}
		}
	}
	if !(within >= 0) {
		return Nearest{}, false, &ValueError{"radius of the search", within, "0 or more"}
	}
	best := Nearest{Triangle: -1}
	limit := float64(within * within)
	t.approach(&p, limit, func(i int32) float64 {
		f := t.faces[i]
		q := nearestOnTriangle(p, t.mesh.Vertices[f[0]], t.mesh.Vertices[f[1]], t.mesh.Vertices[f[2]])
		d := nearestSquare(p, q)
		if tri := t.order[i]; d < limit || d == limit && (best.Triangle < 0 || tri < best.Triangle) {
			best, limit = Nearest{Triangle: tri, At: q}, d
		}
		return limit
	})
	if best.Triangle < 0 {
		return Nearest{}, false, nil
	}
	best.Distance = math.Sqrt(limit)
	return best, true, nil
}

// nearestRoom is how much larger the squared distance to a box may come out than
// the one to a triangle in it: each has fewer than ten roundings of 2⁻⁵³.
const nearestRoom = 1 + 32*0x1p-53

// approach calls look with the place in order of each triangle whose box is not
// farther from p than limit, nearer boxes first. What is meant by limit is the
// square of the distance; look returns the new one.
func (t *Tree) approach(p *Vec, limit float64, look func(i int32) float64) {
	if len(t.nodes) == 0 {
		return
	}
	var stack [treeDepth]struct {
		node int32
		far  float64
	}
	size, at := 0, int32(0)
	for {
		node := &t.nodes[at]
		d := [2]float64{node.box[0].square(p), node.box[1].square(p)}
		k := 0
		if d[1] < d[0] {
			k = 1
		}
		at = -1
		for range 2 {
			switch {
			case !(d[k] <= limit*nearestRoom):
			case node.count[k] > 0:
				for i := node.at[k]; i < node.at[k]+node.count[k]; i++ {
					limit = look(i)
				}
			case at < 0:
				at = node.at[k]
			default:
				stack[size].node, stack[size].far = node.at[k], d[k]
				size++
			}
			k = 1 - k
		}
		for at < 0 && size > 0 {
			size--
			if stack[size].far <= limit*nearestRoom {
				at = stack[size].node
			}
		}
		if at < 0 {
			return
		}
	}
}

// square returns the square of the distance from p to the box.
func (b *treeBox) square(p *Vec) float64 {
	var sum float64
	for k := range 3 {
		d := b[0][k] - p[k]
		if d < 0 {
			d = p[k] - b[1][k]
		}
		if d > 0 {
			sum += float64(d * d)
		}
	}
	return sum
}

func nearestSquare(p, q Vec) float64 {
	d := p.Sub(q)
	return d.Dot(d)
}

// nearestOnTriangle returns the point of a triangle nearest to p. Which of its
// seven regions p is over is told by scalar products (C. Ericson, Real-Time
// Collision Detection, 2005, section 5.1.5). Where the inside is chosen, the
// edges are looked at as well and the nearest taken: the weights of a sliver's
// inside are worth nothing.
func nearestOnTriangle(p, a, b, c Vec) Vec {
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	vc := float64(d1*d4) - float64(d3*d2)
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return nearestOnEdge(p, a, b)
	}
	vb := float64(d5*d2) - float64(d1*d6)
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return nearestOnEdge(p, a, c)
	}
	va := float64(d3*d6) - float64(d5*d4)
	if va <= 0 && d4 >= d3 && d5 >= d6 {
		return nearestOnEdge(p, b, c)
	}
	return nearestInside(p, a, b, c, va, vb, vc)
}

// nearestSliver is the share of the triangle's largest product of edges below
// which the three weights have lost half their digits.
const nearestSliver = 0x1p-26

func nearestInside(p, a, b, c Vec, va, vb, vc float64) Vec {
	ab, ac := b.Sub(a), c.Sub(a)
	sum := va + vb + vc // four times the square of the area
	var best Vec
	least := math.Inf(1)
	if sum > 0 {
		v, w := vb/sum, vc/sum
		best = a.Add(ab.Scale(v)).Add(ac.Scale(w))
		least = nearestSquare(p, best)
	}
	if long := max(ab.Dot(ab), ac.Dot(ac)); sum > float64(float64(nearestSliver*long)*long) {
		return best
	}
	for _, e := range [...][2]Vec{{a, b}, {b, c}, {c, a}} {
		if q := nearestOnEdge(p, e[0], e[1]); nearestSquare(p, q) < least {
			best, least = q, nearestSquare(p, q)
		}
	}
	return best
}

// nearestOnEdge returns the point between a and b nearest to p.
func nearestOnEdge(p, a, b Vec) Vec {
	ab := b.Sub(a)
	along := ab.Dot(p.Sub(a))
	if !(along > 0) {
		return a
	}
	length := ab.Dot(ab)
	if along >= length {
		return b
	}
	return a.Add(ab.Scale(along / length))
}
