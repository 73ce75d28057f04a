package solid

import "math"

// trianglesApart returns the least distance of two triangles that don't cross,
// and the points at it: it is at a corner of one, or inside two edges.
func trianglesApart(t, u triangle) (float64, [2]Vec) {
	least, at := math.Inf(1), [2]Vec{}
	try := func(p, q Vec) {
		if d := nearestSquare(p, q); d < least {
			least, at = d, [2]Vec{p, q}
		}
	}
	for k := range 3 {
		try(t[k], nearestOnTriangle(t[k], u[0], u[1], u[2]))
		try(nearestOnTriangle(u[k], t[0], t[1], t[2]), u[k])
	}
	for i := range 3 {
		for j := range 3 {
			if p, q, inside := nearestOfEdges(t[i], t[(i+1)%3], u[j], u[(j+1)%3]); inside {
				try(p, q)
			}
		}
	}
	return math.Sqrt(least), at
}

// nearestOfEdges returns the points in which two lines are nearest to each other,
// and whether they lie between the ends. Where the lines are parallel they don't;
// an end is as near there.
func nearestOfEdges(a, b, c, d Vec) (p, q Vec, inside bool) {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, uv, vv, uw, vw := u.Dot(u), u.Dot(v), v.Dot(v), u.Dot(w), v.Dot(w)
	det := float64(uu*vv) - float64(uv*uv)
	if !(det > 0) {
		return a, c, false
	}
	s := (float64(uv*vw) - float64(vv*uw)) / det
	t := (float64(uu*vw) - float64(uv*uw)) / det
	return a.Add(u.Scale(s)), c.Add(v.Scale(t)), s > 0 && s < 1 && t > 0 && t < 1
}

// commonPoint returns a point of two triangles that meet, twice: where an edge of
// one passes through the other, or else one of the two points given.
func commonPoint(t, u triangle, near [2]Vec) [2]Vec {
	for _, pair := range [2][2]triangle{{t, u}, {u, t}} {
		face, other := pair[0], pair[1]
		normal := face[1].Sub(face[0]).Cross(face[2].Sub(face[0])).Unit()
		for k := range 3 {
			p, q := other[k], other[(k+1)%3]
			if !face.meets(p, q) {
				continue
			}
			hp, hq := normal.Dot(p.Sub(face[0])), normal.Dot(q.Sub(face[0]))
			at := p
			if hp != hq {
				at = p.Add(q.Sub(p).Scale(min(max(hp/(hp-hq), 0), 1)))
			}
			at = nearestOnTriangle(at, face[0], face[1], face[2])
			return [2]Vec{at, at}
		}
	}
	return [2]Vec{near[0], near[0]}
}
