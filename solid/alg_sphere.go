package solid

import "math"

// maxSphereRows keeps the half-edges of a sphere within 32 bits.
const maxSphereRows = 9000

// Sphere returns a ball with 8·n² triangles: the points of the octahedral
// lattice |i|+|j|+|k| = n pushed out to the radius. All corners lie on the
// sphere, the flats inside it. The ball is its own mirror image in the planes
// through its centre along the axes, and in those at half a right angle to them.
func Sphere(centre Vec, radius float64, n int) (Mesh, error) {
	if !centre.finite() {
		for _, x := range centre {
			if x-x != 0 {
				return Mesh{}, &ValueError{"coordinate of the centre", x, "finite"}
			}
		}
	}
	if !(radius > 0) || math.IsInf(radius, 1) {
		return Mesh{}, &ValueError{"radius", radius, "positive and finite"}
	}
	if n < 1 || n > maxSphereRows {
		return Mesh{}, &ValueError{"n", float64(n), "from 1 to 9000"}
	}
	// The least edge is about radius/n; where the coordinates are rounded to more
	// than a small share of it, triangles would fall flat.
	far := max(math.Abs(centre[0]), math.Abs(centre[1]), math.Abs(centre[2])) + radius
	if radius/float64(n) < sphereRoundings*far {
		return Mesh{}, &ValueError{"radius", radius, "larger so far from the origin"}
	}
	s := sphere{n: n, radius: radius, centre: centre, index: make(map[[3]int]int32, 4*n*n+2)}
	s.out.Triangles = make([][3]int32, 0, 8*n*n)
	for octant := range 8 {
		sx, sy, sz := 1-2*(octant&1), 1-octant&2, 1-octant&4/2
		g := func(a, b int) [3]int { return [3]int{sx * a, sy * b, sz * (n - a - b)} }
		for i := range n {
			for j := range n - i {
				s.add(g(i, j), g(i+1, j), g(i, j+1))
				if i+j < n-1 {
					s.add(g(i+1, j), g(i+1, j+1), g(i, j+1))
				}
			}
		}
	}
	return s.out, nil
}

// sphereRoundings is the least edge in units of the largest coordinate: a
// thousand roundings of 2⁻⁵³.
const sphereRoundings = 0x1p-43

type sphere struct {
	n      int
	radius float64
	centre Vec
	out    Mesh
	index  map[[3]int]int32 // of a lattice point; only looked up
}

// add adds a triangle that runs anticlockwise in the octant where all three
// coordinates are positive, turned round where the octant is its mirror image.
func (s *sphere) add(a, b, c [3]int) {
	sign := 1
	for k := range 3 {
		if a[k]+b[k]+c[k] < 0 {
			sign = -sign
		}
	}
	if sign < 0 {
		b, c = c, b
	}
	s.out.Triangles = append(s.out.Triangles, [3]int32{s.vertex(a), s.vertex(b), s.vertex(c)})
}

func (s *sphere) vertex(p [3]int) int32 {
	at, seen := s.index[p]
	if !seen {
		at = int32(len(s.out.Vertices))
		s.index[p] = at
		v := Vec{float64(p[0]), float64(p[1]), float64(p[2])}
		l := v.Length()
		for k := range 3 {
			v[k] = float64(s.radius*v[k])/l + s.centre[k]
		}
		s.out.Vertices = append(s.out.Vertices, v)
	}
	return at
}
