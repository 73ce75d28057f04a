package solid

import "math"

// flat triangulates a loop by its shadow along the hole's axis.
func (f *repairFiller) flat(l *rimLoop, area Vec) ([][3]int32, bool) {
	n := area.Unit()
	if n == (Vec{}) {
		return nil, false
	}
	k := 0
	for i := range 3 {
		if math.Abs(n[i]) < math.Abs(n[k]) {
			k = i
		}
	}
	var axis Vec
	axis[k] = 1
	x := axis.Sub(n.Scale(n[k])).Unit()
	y := n.Cross(x)
	shadow := make([]Point, len(l.at))
	for i, p := range l.at {
		d := p.Sub(l.at[0])
		shadow[i] = Point{d.Dot(x), d.Dot(y)}
	}
	region := Region{Outer: shadow}
	if region.Check() != nil {
		return nil, false
	}
	triangles := region.Triangulate()
	for _, t := range triangles {
		if Collinear(l.at[t[0]], l.at[t[1]], l.at[t[2]]) {
			return nil, false
		}
		for e := range 3 {
			i, j := int(min(t[e], t[(e+1)%3])), int(max(t[e], t[(e+1)%3]))
			if !f.chordFree(l, i, j) {
				return nil, false
			}
		}
	}
	return triangles, true
}

// clipped cuts the ear with the shortest chord off the loop, convex ones about
// the hole's axis first, until the rest is short enough for the best cap.
func (f *repairFiller) clipped(l *rimLoop, area Vec) ([][3]int32, bool) {
	var out [][3]int32
	for len(l.at) > longestCap {
		n := len(l.at)
		ear, shortest, convex := -1, math.Inf(1), false
		for i := range n {
			h, j := (i+n-1)%n, (i+1)%n
			a, b, c := l.at[h], l.at[i], l.at[j]
			chord := c.Sub(a).Length()
			outward := b.Sub(a).Cross(c.Sub(a)).Dot(area) > 0
			if convex && !outward || convex == outward && chord >= shortest {
				continue
			}
			if !f.chordFree(l, min(h, j), max(h, j)) || Collinear(a, b, c) {
				continue
			}
			ear, shortest, convex = i, chord, outward
		}
		if ear < 0 {
			return nil, false
		}
		h, j := (ear+n-1)%n, (ear+1)%n
		a, b, c := l.at[h], l.at[ear], l.at[j]
		out = append(out, [3]int32{l.corner[h], l.corner[ear], l.corner[j]})
		l = l.without(ear, b.Sub(a).Cross(c.Sub(a)).Unit())
	}
	rest, ok := f.best(l, area)
	return append(out, rest...), ok
}

// middle returns the mean of the rim by length.
func (f *repairFiller) middle(l *rimLoop) Vec {
	var mean Vec
	var whole float64
	for i, p := range l.at {
		q := l.at[(i+1)%len(l.at)]
		length := q.Sub(p).Length()
		mean = mean.Add(p.Add(q).Scale(length / 2))
		whole += length
	}
	return mean.Scale(1 / whole)
}

// fan joins each edge of the loop with its middle.
func (f *repairFiller) fan(l *rimLoop, middle Vec) ([][3]int32, bool) {
	n := len(l.at)
	out := make([][3]int32, n)
	for i := range n {
		j := (i + 1) % n
		if Collinear(l.at[i], l.at[j], middle) {
			return nil, false
		}
		out[i] = [3]int32{int32(i), int32(j), int32(n)}
	}
	return out, true
}
