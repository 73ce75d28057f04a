package solid

import "math"

// sum adds with the error of each step carried along, so that a million small
// tetrahedra lose nothing. Source: A. Neumaier, "Rundungsfehleranalyse einiger
// Verfahren zur Summation endlicher Summen", ZAMM 54 (1974) 39–51.
type sum struct{ s, c float64 }

func (n *sum) add(x float64) {
	t := n.s + x
	if math.Abs(n.s) >= math.Abs(x) {
		n.c += (n.s - t) + x
	} else {
		n.c += (x - t) + n.s
	}
	n.s = t
}

func (n *sum) value() float64 { return n.s + n.c }

// Tensor is a symmetric 3×3 matrix.
type Tensor [3][3]float64

// Mass holds the integrals over a solid at density 1.
type Mass struct {
	Volume   float64 // mm³; negative for a mesh inside out
	Area     float64 // mm², of the surface
	Centroid Vec     // mm; zero where the volume is zero
	Inertia  Tensor  // mm⁵, about the centroid, along the axes; off the diagonal −∫xy
}

// Mass returns volume, area, centroid and inertia. The mesh must be closed for
// all but the area to mean anything; see [Mesh.Check].
//
// Each triangle makes a tetrahedron with the middle of the bounds; its integrals
// are polynomials in its corners. Source: the second moments of a simplex, for
// example F. Tonon, "Explicit exact formulas for the 3-D tetrahedron inertia
// tensor in terms of its vertex coordinates", J. Math. Stat. 1 (2005) 8–11.
func (m Mesh) Mass() Mass {
	bounds := m.Bounds()
	origin := bounds.Min.Add(bounds.Max).Scale(0.5)
	var volume, area sum
	var first [3]sum
	var second [3][3]sum
	for _, t := range m.Triangles {
		a, b, c := m.corners(t)
		area.add(b.Sub(a).Cross(c.Sub(a)).Length())
		a, b, c = a.Sub(origin), b.Sub(origin), c.Sub(origin)
		v := a.Dot(b.Cross(c)) // six times the volume
		volume.add(v)
		s := a.Add(b).Add(c)
		for i := range 3 {
			first[i].add(v * s[i])
			for j := i; j < 3; j++ {
				q := float64(s[i]*s[j]) + float64(a[i]*a[j]) + float64(b[i]*b[j]) + float64(c[i]*c[j])
				second[i][j].add(v * q)
			}
		}
	}
	out := Mass{Volume: volume.value() / 6, Area: area.value() / 2}
	if out.Volume == 0 {
		return out
	}
	var mid Vec
	for i := range 3 {
		mid[i] = first[i].value() / 24 / out.Volume
	}
	out.Centroid = origin.Add(mid)
	var moment Tensor // ∫ x_i x_j about the centroid
	for i := range 3 {
		for j := i; j < 3; j++ {
			moment[i][j] = second[i][j].value()/120 - float64(out.Volume*float64(mid[i]*mid[j]))
			moment[j][i] = moment[i][j]
		}
	}
	for i := range 3 {
		for j := range 3 {
			if i == j {
				out.Inertia[i][i] = moment[(i+1)%3][(i+1)%3] + moment[(i+2)%3][(i+2)%3]
			} else {
				out.Inertia[i][j] = -moment[i][j]
			}
		}
	}
	return out
}

// Volume returns the volume in mm³, negative for a mesh inside out.
func (m Mesh) Volume() float64 { return m.Mass().Volume }

// Area returns the area of the surface in mm².
func (m Mesh) Area() float64 { return m.Mass().Area }

// Centroid returns the centre of gravity at even density.
func (m Mesh) Centroid() Vec { return m.Mass().Centroid }

// Inertia returns the moments about the centroid at density 1, in mm⁵.
func (m Mesh) Inertia() Tensor { return m.Mass().Inertia }

// Euler returns vertices − edges + triangles, counting only vertices in use.
// Indices must be in range.
func (m Mesh) Euler() int {
	used := make([]bool, len(m.Vertices))
	vertices, edges := 0, 0
	for _, t := range m.Triangles {
		for _, v := range t {
			if !used[v] {
				used[v] = true
				vertices++
			}
		}
	}
	m.eachEdge(func(_, _ int32, _ []int32) { edges++ })
	return vertices - edges + len(m.Triangles)
}

// Genus returns the number of handles, summed over the components: 0 for a
// ball, 1 for a tube. The mesh must be closed and manifold; otherwise the error
// is a [*NotSolidError].
func (m Mesh) Genus() (int, error) {
	if err := m.Solid(); err != nil {
		return 0, err
	}
	_, n := m.components()
	return n - m.Euler()/2, nil // Σ (2 − 2g) = V − E + F (Euler, Poincaré)
}
