package solid

import (
	"cmp"
	"math"
	"slices"
)

// flatGround tells which triangles of a solid are parts of one flat region: they
// hang together, all their corners lie within reach of one plane, and they are
// the same way up.
type flatGround struct {
	mesh     Mesh
	opposite []int32
	reach    float64
	region   []int32     // of a triangle
	planes   []flatPlane // of a region
	size     []int32     // of a region: its triangles
}

// flatPlane is the plane of a flat region: a point, the unit normal, and the two
// axes along which the region's shadow runs anticlockwise. The shadow's
// coordinates are those given, so signs about it are exact.
type flatPlane struct {
	at, normal Vec
	i, j       int
}

func newFlatPlane(at, normal Vec) flatPlane {
	p := flatPlane{at: at, normal: normal.Unit()}
	k := 0
	for i := range 3 {
		if math.Abs(p.normal[i]) > math.Abs(p.normal[k]) {
			k = i
		}
	}
	p.i, p.j = (k+1)%3, (k+2)%3
	if p.normal[k] < 0 {
		p.i, p.j = p.j, p.i
	}
	return p
}

func (p flatPlane) shadow(v Vec) Point { return Point{v[p.i], v[p.j]} }

// holds reports whether a triangle lies in the plane within reach, the same way
// up.
func (p flatPlane) holds(a, b, c Vec, reach float64) bool {
	for _, v := range [3]Vec{a, b, c} {
		if math.Abs(p.normal.Dot(v.Sub(p.at))) > reach {
			return false
		}
	}
	return Orient(p.shadow(a), p.shadow(b), p.shadow(c)) == CounterClockwise
}

// newFlatGround labels the triangles, from the largest to the smallest. Each
// region begins at a triangle and takes in what that one's plane holds. Of a small
// triangle the plane is known too badly to hold a large region, so it is taken
// anew from all there is, and what it holds is looked for again.
func newFlatGround(m Mesh, opposite []int32, reach float64) *flatGround {
	n := len(m.Triangles)
	g := &flatGround{mesh: m, opposite: opposite, reach: reach, region: make([]int32, n)}
	type seed struct {
		area float64
		face int32
	}
	seeds := make([]seed, n)
	for i, t := range m.Triangles {
		a, b, c := m.corners(t)
		g.region[i] = -1
		seeds[i] = seed{b.Sub(a).Cross(c.Sub(a)).Length(), int32(i)}
	}
	slices.SortFunc(seeds, func(a, b seed) int {
		return cmp.Or(cmp.Compare(b.area, a.area), cmp.Compare(a.face, b.face))
	})
	for _, s := range seeds {
		if g.region[s.face] < 0 {
			g.grow(s.face)
		}
	}
	return g
}

// flatRefits bounds how often the plane of a region is taken anew. Each time it
// holds a region wider by some powers of ten.
const flatRefits = 4

func (g *flatGround) grow(seed int32) {
	a, b, c := g.mesh.corners(g.mesh.Triangles[seed])
	plane := newFlatPlane(a, b.Sub(a).Cross(c.Sub(a)))
	label := int32(len(g.planes))
	part := g.flood(seed, label, plane)
	for refit := 0; refit < flatRefits && len(part) > 1; refit++ {
		better := g.fit(part)
		if !better.holds(a, b, c, g.reach) {
			break
		}
		g.unlabel(part)
		wider := g.flood(seed, label, better)
		if len(wider) <= len(part) {
			g.unlabel(wider)
			part = g.flood(seed, label, plane)
			break
		}
		part, plane = wider, better
	}
	g.planes = append(g.planes, plane)
	g.size = append(g.size, int32(len(part)))
}

func (g *flatGround) unlabel(part []int32) {
	for _, t := range part {
		g.region[t] = -1
	}
}

// flood labels what hangs together with the seed and is held by the plane.
func (g *flatGround) flood(seed, label int32, plane flatPlane) []int32 {
	g.region[seed] = label
	part := []int32{seed}
	for next := 0; next < len(part); next++ {
		for h := 3 * part[next]; h < 3*part[next]+3; h++ {
			t := g.opposite[h] / 3
			if g.region[t] >= 0 {
				continue
			}
			if a, b, c := g.mesh.corners(g.mesh.Triangles[t]); plane.holds(a, b, c, g.reach) {
				g.region[t] = label
				part = append(part, t)
			}
		}
	}
	return part
}

// fit returns the plane through the middle of the triangles, with the normal
// that their areas have together.
func (g *flatGround) fit(part []int32) flatPlane {
	origin := g.mesh.Vertices[g.mesh.Triangles[part[0]][0]]
	var normal, middle [3]sum
	var whole sum
	for _, t := range part {
		a, b, c := g.mesh.corners(g.mesh.Triangles[t])
		n := b.Sub(a).Cross(c.Sub(a))
		area := n.Length()
		whole.add(area)
		m := a.Sub(origin).Add(b.Sub(origin)).Add(c.Sub(origin)).Scale(1.0 / 3)
		for k := range 3 {
			normal[k].add(n[k])
			middle[k].add(area * m[k])
		}
	}
	var n, at Vec
	for k := range 3 {
		n[k], at[k] = normal[k].value(), origin[k]+middle[k].value()/whole.value()
	}
	return newFlatPlane(at, n)
}

// crease reports whether half-edge h is between two regions.
func (g *flatGround) crease(h int32) bool { return g.region[h/3] != g.region[g.opposite[h]/3] }
