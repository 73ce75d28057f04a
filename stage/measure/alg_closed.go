package measure

import (
	"math"
)

// A closed outline is drawn by the same rule as a profile (see segments), but its
// points are places of a plane and it has no beginning.
const (
	// Ends of segments are looked for at so many places at most.
	mostBreaks = 360
	// Edge points blend two segments within this of a corner, mm on either side:
	// the search for the edge reads along normals that turn there.
	blended = 0.8
	// A closed arc is written as arcs of less than half a turn; so much each, rad.
	mostTurn = 2.4
)

// stretch is a segment under way: points [from, to) of the ring, counted on past
// its end.
type stretch struct {
	from, to int
	arc      bool
	line     straight
	circle   round
}

// straight is a line through (x, y) along the unit vector (dx, dy).
type straight struct{ x, y, dx, dy float64 }

// round is a circle.
type round struct{ x, y, r float64 }

// closedSegments draws lines and arcs through a closed ring of places; nil where
// it has too few. Thrown is how far height throws an edge at a place.
func closedSegments(ring []place, thrown func(place) float64) []Segment {
	if len(ring) < 4*fewest {
		return nil
	}
	ring = fromCorner(ring)
	c := newClosed(ring)
	parts := c.divide()
	if len(parts) == 0 {
		return nil
	}
	parts = c.joinEnds(parts)
	parts = c.withoutUprights(parts, thrown)
	for i := range parts {
		parts[i].fit(c)
	}
	if len(parts) == 1 {
		return wholeCircle(parts[0])
	}
	return cornered(c, parts)
}

// withoutUprights leaves out the sides of upright edges: short, between a stretch
// that shows the upper edge and one that shows the lower.
func (c *closed) withoutUprights(parts []stretch, thrown func(place) float64) []stretch {
	n := len(parts)
	var kept []stretch
	for i, s := range parts {
		a, b := c.at(s.from), c.at(s.to)
		before, after := parts[(i+n-1)%n], parts[(i+1)%n]
		short := math.Hypot(b.x-a.x, b.y-a.y) < thrown(a)+4*blended
		if thrown(a) > 0 && short && c.upper(before) != c.upper(after) {
			continue
		}
		kept = append(kept, s)
	}
	if len(kept) < 3 {
		return parts
	}
	return kept
}

// upper reports whether most of a stretch shows the upper edge.
func (c *closed) upper(s stretch) bool {
	n := 0
	for k := s.from; k < s.to; k++ {
		if c.at(k).upper {
			n++
		}
	}
	return 2*n > s.to-s.from
}

// fromCorner begins the ring where it turns most, so that no segment runs across
// its beginning unless there is no corner.
func fromCorner(ring []place) []place {
	n := len(ring)
	arm := max(3, n/60)
	best, most := 0, -1.0
	for i := range ring {
		a, b, c := ring[(i+n-arm)%n], ring[i], ring[(i+arm)%n]
		ux, uy, vx, vy := b.x-a.x, b.y-a.y, c.x-b.x, c.y-b.y
		if turn := math.Abs(math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)); turn > most {
			best, most = i, turn
		}
	}
	return append(append([]place{}, ring[best:]...), ring[:best]...)
}

// closed holds sums of weighted moments up to each point, so that a line or an
// algebraic circle through any stretch costs the same.
type closed struct {
	ring   []place
	x0, y0 float64
	sum    [][10]float64
}

func newClosed(ring []place) *closed {
	c := &closed{ring: ring, sum: make([][10]float64, 2*len(ring)+1)}
	for _, p := range ring {
		c.x0 += p.x / float64(len(ring))
		c.y0 += p.y / float64(len(ring))
	}
	for k := range 2 * len(ring) {
		p := c.at(k)
		w := 1 / (p.u * p.u * independent)
		x, y := p.x-c.x0, p.y-c.y0
		z := x*x + y*y
		for i, v := range [10]float64{1, x, y, x * x, x * y, y * y, z, z * x, z * y, z * z} {
			c.sum[k+1][i] = c.sum[k][i] + w*v
		}
	}
	return c
}

func (c *closed) at(k int) place { return c.ring[k%len(c.ring)] }

func (c *closed) moments(from, to int) (m [10]float64) {
	for k := range m {
		m[k] = c.sum[to][k] - c.sum[from][k]
	}
	return m
}

// scatter is the weighted scatter of a stretch about its middle.
func scatter(m [10]float64) (xx, xy, yy float64) {
	return m[3] - m[1]*m[1]/m[0], m[4] - m[1]*m[2]/m[0], m[5] - m[2]*m[2]/m[0]
}

// costLine is half of chi-squared of the best line, by distance: half the smaller
// eigenvalue of the scatter.
func (c *closed) costLine(from, to int) float64 {
	xx, xy, yy := scatter(c.moments(from, to))
	return max(0, (xx+yy)/2-math.Hypot((xx-yy)/2, xy)) / 2
}

// costArc is half of chi-squared of the algebraic circle, its residuals brought
// to distances; see fitter.arc.
func (c *closed) costArc(from, to int) (cost, radius float64) {
	m := c.moments(from, to)
	q, ok := solve4([4][5]float64{
		{m[3], m[4], m[1], 0, -m[7]},
		{m[4], m[5], m[2], 0, -m[8]},
		{m[1], m[2], m[0], 0, -m[6]},
		{0, 0, 0, 1, 0},
	})
	if !ok {
		return math.Inf(1), 0
	}
	rr := (q[0]*q[0]+q[1]*q[1])/4 - q[2]
	if rr <= 0 {
		return math.Inf(1), 0
	}
	ss := m[9] + q[0]*q[0]*m[3] + q[1]*q[1]*m[5] + q[2]*q[2]*m[0] +
		2*(q[0]*m[7]+q[1]*m[8]+q[2]*m[6]+q[0]*q[1]*m[4]+q[0]*q[2]*m[1]+q[1]*q[2]*m[2])
	return max(0, ss) / (4 * rr) / 2, math.Sqrt(rr)
}

// divide finds the cheapest description by dynamic programming over where
// segments end; points within reach of a corner belong to neither side.
func (c *closed) divide() []stretch {
	n := len(c.ring)
	stride := (n + mostBreaks - 1) / mostBreaks
	count := n / stride
	place := func(k int) int { return k * n / count }
	skip := c.skip()
	perParam := 0.5 * math.Log(float64(n))
	size := c.size()
	best, prev, arcs := make([]float64, count+1), make([]int, count+1), make([]bool, count+1)
	for j := 1; j <= count; j++ {
		best[j] = math.Inf(1)
		for i := range j {
			from, to := place(i)+skip, place(j)-skip
			if to-from < fewest {
				continue
			}
			take := func(cost float64, arc bool) {
				if total := best[i] + cost; total < best[j] {
					best[j], prev[j], arcs[j] = total, i, arc
				}
			}
			take(c.costLine(from, to)+lineParams*perParam, false)
			if to-from >= fewest+2 {
				if cost, r := c.costArc(from, to); r < flattest*size && r > roundest {
					take(cost+arcParams*perParam, true)
				}
			}
		}
	}
	var out []stretch
	for j := count; j > 0 && !math.IsInf(best[j], 1); j = prev[j] {
		out = append([]stretch{{from: place(prev[j]), to: place(j), arc: arcs[j]}}, out...)
	}
	return out
}

// skip is how many points lie within a corner's blend.
func (c *closed) skip() int {
	round := 0.0
	for i := range c.ring {
		a, b := c.at(i), c.at(i+1)
		round += math.Hypot(b.x-a.x, b.y-a.y)
	}
	return max(1, int(blended*float64(len(c.ring))/round))
}

// size is the largest extent of the ring, mm.
func (c *closed) size() float64 {
	lo, hi := c.ring[0], c.ring[0]
	for _, p := range c.ring {
		lo.x, lo.y = min(lo.x, p.x), min(lo.y, p.y)
		hi.x, hi.y = max(hi.x, p.x), max(hi.y, p.y)
	}
	return max(hi.x-lo.x, hi.y-lo.y)
}

// joinEnds makes one of the last and the first stretch where they lie on one line
// or circle.
func (c *closed) joinEnds(parts []stretch) []stretch {
	if len(parts) < 2 {
		return parts
	}
	first, last := parts[0], parts[len(parts)-1]
	if first.arc != last.arc {
		return parts
	}
	skip, n := c.skip(), len(c.ring)
	perParam := 0.5 * math.Log(float64(n))
	cost := func(from, to int) float64 {
		if first.arc {
			half, _ := c.costArc(from+skip, to-skip)
			return half + arcParams*perParam
		}
		return c.costLine(from+skip, to-skip) + lineParams*perParam
	}
	if cost(last.from, n+first.to) > cost(last.from, n)+cost(first.from, first.to) {
		return parts
	}
	if len(parts) == 2 && first.arc {
		return []stretch{{from: 0, to: n, arc: true}}
	}
	joined := stretch{from: last.from, to: n + first.to, arc: first.arc}
	return append(append([]stretch{}, parts[1:len(parts)-1]...), joined)
}

// fit draws the stretch through its points by distance, its blended ends left out.
func (s *stretch) fit(c *closed) {
	skip := c.skip()
	from, to := s.from+skip, s.to-skip
	if s.arc {
		var x, y, w []float64
		for k := from; k < to; k++ {
			p := c.at(k)
			x, y, w = append(x, p.x), append(y, p.y), append(w, 1/(p.u*p.u))
		}
		var ok bool
		if s.circle.x, s.circle.y, s.circle.r, ok = fitCircle(x, y, w); ok {
			return
		}
		s.arc = false
	}
	m := c.moments(from, to)
	xx, xy, yy := scatter(m)
	angle := math.Atan2(2*xy, xx-yy) / 2
	s.line = straight{m[1]/m[0] + c.x0, m[2]/m[0] + c.y0, math.Cos(angle), math.Sin(angle)}
}
