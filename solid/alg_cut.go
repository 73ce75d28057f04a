package solid

import "math"

// Cut divides a closed solid by a plane into the part above (on the side the
// normal points to) and the part below, each closed with caps. Either may be
// empty.
//
// Each vertex is below, on or above the plane, decided once by [Plane.Side];
// nearer than 2⁻⁴⁴ of the largest coordinate counts as on it. Each part is then the closure of what lies strictly on its side: a face in the
// plane belongs to the part whose material it bounds, a solid that only touches
// the plane isn't divided, and no film of zero thickness is left behind. Where a
// part touches itself in a point or line of the plane it gets a vertex for each
// fan of faces there, so the result is manifold by its indices.
//
// The caps are linked along edges of the mesh, never by coordinates. The error is
// a [*NotSolidError] if some edge doesn't have two triangles, or a [*ValueError]
// for a plane without direction.
func Cut(m Mesh, p Plane) (above, below Mesh, err error) {
	if err := p.check(); err != nil {
		return Mesh{}, Mesh{}, err
	}
	opposite, err := m.Opposites()
	if err != nil {
		return Mesh{}, Mesh{}, err
	}
	side, onPlane := p.sides(m)
	flipped := make([]float64, len(side))
	for i, s := range side {
		flipped[i] = -s
	}
	frame := p.Frame()
	low := half{mesh: m, opposite: opposite, side: side}
	low.clip()
	low.pairWedges(frame)
	low.cap(frame, nil)
	// Seen from the other side of the plane above is below. The frame is turned
	// over by exchanging its axes, so both parts see the same plane coordinates.
	turned := Frame{Origin: frame.Origin, U: frame.V, V: frame.U, N: frame.N.Scale(-1)}
	high := half{mesh: m, opposite: opposite, side: flipped}
	high.clip()
	var shared *half
	if !onPlane {
		shared = &low // both caps have the same corners: triangulated once
	}
	high.pairWedges(turned)
	high.cap(turned, shared)
	return high.out, low.out, nil
}

// planeThickness is the distance, relative to the largest coordinate, at which a
// vertex counts as on the plane: 2⁻⁴⁴, 7e-12 mm for a piece of 126 mm. Corners
// that a cut makes are rounded to 2⁻⁵³ of that size, so a triangle less than a
// few hundred such steps high could fall flat; none is made.
const planeThickness = 0x1p-44

// sides returns the side of each vertex, and whether any lies on the plane.
func (p Plane) sides(m Mesh) (side []float64, onPlane bool) {
	side = make([]float64, len(m.Vertices))
	size := 0.0
	for i, v := range m.Vertices {
		side[i] = p.Side(v)
		size = max(size, math.Abs(v[0]), math.Abs(v[1]), math.Abs(v[2]))
	}
	near := planeThickness * size * p.Normal.Length()
	for i, s := range side {
		if math.Abs(s) <= near {
			side[i], onPlane = 0, true
		}
	}
	return side, onPlane
}

// half builds the part of a solid where side < 0.
type half struct {
	mesh     Mesh
	opposite []int32
	side     []float64

	out     Mesh
	crossed map[int32]int32 // lower half-edge of an edge through the plane → vertex of out
	next    map[int32]int32 // the cap's edges: from vertex to vertex of out
	starts  []int32         // the cap's edges in the order they were found, by first vertex
	copies  [][2]int32      // a vertex on the plane and the vertex of out for one of its fans
	same    sets            // copies that are one vertex; nil where each is its own
	ridges  map[[2]int32]bool
	capped  [][3]int32 // the cap's triangles as vertices of out
}

func (c *half) kept(t int32) bool {
	for _, v := range c.mesh.Triangles[t] {
		if c.side[v] < 0 {
			return true
		}
	}
	return false
}

// clip copies what lies below and notes the edges left open in the plane.
func (c *half) clip() {
	c.crossed, c.next, c.ridges = map[int32]int32{}, map[int32]int32{}, map[[2]int32]bool{}
	fan := c.planeFans()
	vertex := make([]int32, len(c.mesh.Vertices)) // below: index in out, plus one
	onPlane := map[int32]int32{}                  // fan → vertex of out
	corner := func(h int32) int32 {
		v := c.mesh.tail(h)
		if c.side[v] == 0 {
			f := fan.find(h)
			if _, ok := onPlane[f]; !ok {
				onPlane[f] = c.add(c.mesh.Vertices[v])
				c.copies = append(c.copies, [2]int32{v, onPlane[f]})
			}
			return onPlane[f]
		}
		if vertex[v] == 0 {
			vertex[v] = c.add(c.mesh.Vertices[v]) + 1
		}
		return vertex[v] - 1
	}
	for t := range int32(len(c.mesh.Triangles)) {
		if !c.kept(t) {
			continue
		}
		var ring [4]int32 // the polygon that is kept
		var flat [4]bool  // its corners that lie in the plane
		n := 0
		for k := range int32(3) {
			h := 3*t + k
			a, b := c.side[c.mesh.tail(h)], c.side[c.mesh.head(h)]
			if a <= 0 {
				ring[n], flat[n] = corner(h), a == 0
				n++
			}
			if a < 0 && b > 0 || a > 0 && b < 0 {
				ring[n], flat[n] = c.crossing(h), true
				n++
			}
		}
		c.addPolygon(ring[:n])
		for i := range n {
			j := (i + 1) % n
			if !flat[i] || !flat[j] {
				continue
			}
			if c.isRidge(t) {
				c.ridges[edgeKey(ring[i], ring[j])] = true
				continue
			}
			c.next[ring[j]] = ring[i] // the cap runs the other way
			c.starts = append(c.starts, ring[j])
		}
	}
}

// isRidge reports whether the edge of a kept triangle that lies in the plane has
// a kept triangle on its other side too: then no cap begins there.
func (c *half) isRidge(t int32) bool {
	for k := range int32(3) {
		h := 3*t + k
		if c.side[c.mesh.tail(h)] == 0 && c.side[c.mesh.head(h)] == 0 {
			return c.kept(c.opposite[h] / 3)
		}
	}
	return false
}

// planeFans joins the corners at vertices on the plane that are neighbours
// across an edge that is kept: one that goes down from the plane, or lies in it
// between two kept triangles.
func (c *half) planeFans() sets {
	fan := newSets(3 * len(c.mesh.Triangles))
	for h := range int32(len(fan)) {
		o := c.opposite[h]
		if c.side[c.mesh.tail(h)] == 0 && c.side[c.mesh.head(h)] <= 0 && c.kept(h/3) && c.kept(o/3) {
			fan.join(h, nextHalf(o))
		}
	}
	return fan
}

func (c *half) add(p Vec) int32 {
	c.out.Vertices = append(c.out.Vertices, p)
	return int32(len(c.out.Vertices) - 1)
}

// crossing returns the vertex where the edge of h passes through the plane.
func (c *half) crossing(h int32) int32 {
	edge := min(h, c.opposite[h])
	v, ok := c.crossed[edge]
	if !ok {
		a, b := c.mesh.tail(edge), c.mesh.head(edge)
		v = c.add(crossingPoint(c.mesh, c.side, a, b))
		c.crossed[edge] = v
	}
	return v
}

// crossingPoint returns the point of an edge where side is zero, always taken
// from the lower vertex to the higher; with all sides negated it has the same
// bits. It stays within the box of the two ends.
func crossingPoint(m Mesh, side []float64, a, b int32) Vec {
	if a > b {
		a, b = b, a
	}
	p, q := m.Vertices[a], m.Vertices[b]
	t := side[a] / (side[a] - side[b])
	var out Vec
	for k := range 3 {
		x := p[k] + float64(t*(q[k]-p[k]))
		out[k] = math.Max(math.Min(p[k], q[k]), math.Min(math.Max(p[k], q[k]), x))
	}
	return out
}

// addPolygon adds a triangle or a quadrilateral, by its shorter diagonal.
func (c *half) addPolygon(ring []int32) {
	if len(ring) == 3 {
		c.out.Triangles = append(c.out.Triangles, [3]int32{ring[0], ring[1], ring[2]})
		return
	}
	var l [2]float64
	for k := range 2 {
		d := c.out.Vertices[ring[k]].Sub(c.out.Vertices[ring[k+2]])
		l[k] = d.Dot(d)
	}
	if l[0] <= l[1] {
		c.out.Triangles = append(c.out.Triangles,
			[3]int32{ring[0], ring[1], ring[2]}, [3]int32{ring[0], ring[2], ring[3]})
		return
	}
	c.out.Triangles = append(c.out.Triangles,
		[3]int32{ring[0], ring[1], ring[3]}, [3]int32{ring[1], ring[2], ring[3]})
}

func edgeKey(a, b int32) [2]int32 { return [2]int32{min(a, b), max(a, b)} }
