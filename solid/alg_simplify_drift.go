package solid

import "math"

// How the error is kept. Between the old surface and the new there is at all
// times a map, one to one and onto: at first everything is itself, and where a
// star becomes a fan, each point of the star goes to the one of the fan that lies
// over or under it, seen along the star's normal. Both are flat between the lines
// of one drawn over those of the other, so the way between them is largest at
// the points where lines meet (C. Bajaj and D. Schikore, "Error-bounded reduction
// of triangle meshes with multivariate data", SPIE 2656 (1996) 34–45).
//
// Each vertex keeps its drift: a box of vectors. Within a triangle the boxes of
// its corners are interpolated, and the box at a point y holds x − y for every
// point x of the old surface that has become y. A box, not a length, because ways
// to one side and back must not add up. So no distance is more than the farthest
// corner of any box, in either direction: from x to y, and from y to x.

// drift is a box by its low and its high corner.
type drift struct{ low, high Vec }

// size returns the length of the longest vector in the box.
func (d *drift) size() float64 {
	var far Vec
	for k := range 3 {
		far[k] = max(math.Abs(d.low[k]), math.Abs(d.high[k]))
	}
	return far.Length()
}

// mix returns s·d + t·e for weights that aren't negative.
func (d *drift) mix(s float64, e *drift, t float64) drift {
	return drift{d.low.Scale(s).Add(e.low.Scale(t)), d.high.Scale(s).Add(e.high.Scale(t))}
}

func (d *drift) moved(way Vec) drift { return drift{d.low.Add(way), d.high.Add(way)} }

// driftEnd is how near, as a share of its length, a crossing may lie to the outer
// end of a line of the fan and still be asked to be held by the vertex at w: it
// would have to grow by as much as its reciprocal. Nearer, it must be held as it is.
const driftEnd = 1e-9

// driftOf returns the drift that the vertex at w needs, and whether there is one:
// the star must have been found sound.
func (c *collapser) driftOf(s *star) (drift, bool) {
	at, ok := c.underW(s)
	if !ok {
		return drift{}, false
	}
	need := at
	// held widens need until a point of the fan, share·w and the rest, holds what is
	// asked there.
	held := func(share float64, rest, asked drift) bool {
		if share < driftEnd {
			for k := range 3 {
				if rest.low[k] > asked.low[k]+c.slack || rest.high[k] < asked.high[k]-c.slack {
					return false
				}
			}
			return true
		}
		for k := range 3 {
			need.low[k] = min(need.low[k], (asked.low[k]-rest.low[k])/share)
			need.high[k] = max(need.high[k], (asked.high[k]-rest.high[k])/share)
		}
		return true
	}
	if !c.holdEnd(s, s.u, s.pu, held) || !c.holdEnd(s, s.v, s.pv, held) {
		return drift{}, false
	}
	// Lines of the star: from u to v, to x and y and to what is between, from v.
	n := len(s.ring)
	for i, r := range s.ring {
		spoke := c.spoke(s, i)
		ok = spoke.cross(c.line(s.u, s.pu, s.v, s.pv), held)
		for j := 0; j <= s.atU && ok; j++ {
			if j != i {
				ok = spoke.cross(c.line(s.u, s.pu, s.ring[j], s.flat[j]), held)
			}
		}
		for j := s.atU; j <= n && ok; j++ {
			if k := j % n; s.ring[k] != r {
				ok = spoke.cross(c.line(s.v, s.pv, s.ring[k], s.flat[k]), held)
			}
		}
		if !ok {
			return drift{}, false
		}
	}
	// What rounding took.
	for k := range 3 {
		need.low[k] -= c.slack
		need.high[k] += c.slack
	}
	return need, need.size() <= c.limit
}

// driftLine is an edge in space, in the plane, and with its drift.
type driftLine struct {
	from, to   Vec
	p, q       Point
	start, end *drift
}

func (c *collapser) line(a int32, p Point, b int32, q Point) driftLine {
	return driftLine{c.points[a], c.points[b], p, q, &c.drift[a], &c.drift[b]}
}

// spoke is the fan's line from w to ring[i]; w's drift is what is looked for.
func (c *collapser) spoke(s *star, i int) driftLine {
	return driftLine{s.w, c.points[s.ring[i]], s.pw, s.flat[i], nil, &c.drift[s.ring[i]]}
}

// cross asks the fan's line to hold what the star's line has where they cross.
func (l driftLine) cross(o driftLine, held func(share float64, rest, asked drift) bool) bool {
	d, e, f := l.q.sub(l.p), o.q.sub(o.p), o.p.sub(l.p)
	det := cross2(d, e)
	if det == 0 {
		return true // along each other: what matters is at their ends
	}
	s, t := cross2(f, e)/det, cross2(f, d)/det
	// A crossing just beyond an end by rounding is at the end.
	if !(s > -driftEnd && s < 1+driftEnd && t > -driftEnd && t < 1+driftEnd) {
		return true
	}
	s, t = min(max(s, 0), 1), min(max(t, 0), 1)
	on := l.from.Scale(1 - s).Add(l.to.Scale(s))
	was := o.from.Scale(1 - t).Add(o.to.Scale(t))
	asked := o.start.mix(1-t, o.end, t)
	rest := l.end.mix(s, l.end, 0)
	return held(1-s, rest, asked.moved(was.Sub(on)))
}

// holdEnd asks the fan to hold what vertex e of the star has.
func (c *collapser) holdEnd(s *star, e int32, p Point, held func(share float64, rest, asked drift) bool) bool {
	for i, a := range s.flat {
		j := s.after(i)
		share, ok := driftShares(p, s.pw, a, s.flat[j])
		if !ok {
			continue
		}
		on := s.w.Scale(share[0]).Add(c.points[s.ring[i]].Scale(share[1])).Add(c.points[s.ring[j]].Scale(share[2]))
		rest := c.drift[s.ring[i]].mix(share[1], &c.drift[s.ring[j]], share[2])
		return held(share[0], rest, c.drift[e].moved(c.points[e].Sub(on)))
	}
	return false
}

// underW returns what the star has where w comes to lie.
func (c *collapser) underW(s *star) (drift, bool) {
	try := func(o int32, p Point, i, j int) (drift, bool) {
		a, b := s.ring[i], s.ring[j]
		share, ok := driftShares(s.pw, p, s.flat[i], s.flat[j])
		if !ok {
			return drift{}, false
		}
		was := c.points[o].Scale(share[0]).Add(c.points[a].Scale(share[1])).Add(c.points[b].Scale(share[2]))
		d := c.drift[o].mix(share[0], &c.drift[a], share[1])
		d = d.mix(1, &c.drift[b], share[2])
		return d.moved(was.Sub(s.w)), true
	}
	for i := range s.ring {
		p := s.pu
		if i >= s.atU {
			p = s.pv
		}
		if d, ok := try(s.apex(i), p, i, s.after(i)); ok {
			return d, true
		}
	}
	// Or in one of the two triangles along the edge.
	for _, i := range [2]int{0, s.atU} {
		share, ok := driftShares(s.pw, s.pu, s.pv, s.flat[i])
		if !ok {
			// The second runs the other way.
			if share, ok = driftShares(s.pw, s.pv, s.pu, s.flat[i]); !ok {
				continue
			}
			share[0], share[1] = share[1], share[0]
		}
		r := s.ring[i]
		was := c.points[s.u].Scale(share[0]).Add(c.points[s.v].Scale(share[1])).Add(c.points[r].Scale(share[2]))
		d := c.drift[s.u].mix(share[0], &c.drift[s.v], share[1])
		d = d.mix(1, &c.drift[r], share[2])
		return d.moved(was.Sub(s.w)), true
	}
	return drift{}, false
}

// driftShares returns the weights of the corners of a triangle that runs
// anticlockwise for a point in it, but for rounding.
func driftShares(p, a, b, c Point) (share [3]float64, inside bool) {
	x, y, z := cross2(b.sub(p), c.sub(p)), cross2(c.sub(p), a.sub(p)), cross2(a.sub(p), b.sub(p))
	whole := x + y + z
	if !(whole > 0) || !(min(x, y, z) >= -driftEnd*whole) {
		return share, false
	}
	share = [3]float64{max(x, 0), max(y, 0), max(z, 0)}
	whole = share[0] + share[1] + share[2]
	for k := range share {
		share[k] /= whole
	}
	return share, true
}
