package solid

import "math"

// Check returns everything that keeps the mesh from being the surface of a
// solid, by kind in the order of the constants, then by place; nil for a sound
// solid, the empty one included. It looks at topology and at single triangles;
// it doesn't look for surfaces that pass through each other.
//
// Faults of numbers (an index, a NaN) end the check at once, since nothing that
// follows would mean anything. Components are only judged where every edge is
// sound: the volume of an open shell is no volume.
func (m Mesh) Check() []Fault {
	if faults := m.checkNumbers(); len(faults) > 0 {
		return faults
	}
	faults := m.checkFaces()
	edges, fans := m.checkEdges()
	faults = append(faults, edges...)
	faults = append(faults, m.checkVertices(fans)...)
	if len(edges) == 0 {
		faults = append(faults, m.checkComponents()...)
	}
	return faults
}

// Closed reports whether [Mesh.Check] finds nothing: the mesh is a closed,
// oriented 2-manifold, at its vertices too.
func (m Mesh) Closed() bool { return len(m.Check()) == 0 }

// Solid returns nil, or what [Mesh.Check] found as a [*NotSolidError].
func (m Mesh) Solid() error {
	if faults := m.Check(); len(faults) > 0 {
		return &NotSolidError{Faults: faults}
	}
	return nil
}

func (m Mesh) checkNumbers() []Fault {
	var faults []Fault
	for i, t := range m.Triangles {
		for _, v := range t {
			if v < 0 || int(v) >= len(m.Vertices) {
				faults = append(faults, Fault{Kind: IndexOutOfRange, Triangle: int32(i), Vertices: [2]int32{v, v}})
			}
		}
	}
	for i, p := range m.Vertices {
		if !p.finite() {
			v := int32(i)
			faults = append(faults, Fault{Kind: NotFinite, Triangle: -1, Vertices: [2]int32{v, v}, At: p})
		}
	}
	return faults
}

func (m Mesh) checkFaces() []Fault {
	var repeated, degenerate []Fault
	for i, t := range m.Triangles {
		f := Fault{Triangle: int32(i), Vertices: [2]int32{-1, -1}}
		a, b, c := m.corners(t)
		f.At = a.Add(b).Add(c).Scale(1.0 / 3)
		switch {
		case t[0] == t[1] || t[1] == t[2] || t[2] == t[0]:
			f.Kind = RepeatedCorner
			repeated = append(repeated, f)
		case Collinear(a, b, c):
			f.Kind = DegenerateFace
			degenerate = append(degenerate, f)
		}
	}
	return append(repeated, degenerate...)
}

// edgeFault judges the half-edges along one edge.
func (m Mesh) edgeFault(lo, hi int32, halves []int32) (Fault, bool) {
	f := Fault{
		Triangle: halves[0] / 3, Vertices: [2]int32{lo, hi}, Count: len(halves),
		At: m.Vertices[lo].Add(m.Vertices[hi]).Scale(0.5),
	}
	switch {
	case len(halves) == 1:
		f.Kind = OpenEdge
	case len(halves) > 2:
		f.Kind = CrowdedEdge
	case m.tail(halves[0]) == m.tail(halves[1]):
		f.Kind = InconsistentEdge
	default:
		return Fault{}, false
	}
	return f, true
}

// checkEdges returns the faulty edges, and the corners joined to fans across
// every edge. Corner c is corner c%3 of triangle c/3, the tail of half-edge c.
// Across a faulty edge corners are joined as well, so that one fault isn't told
// twice.
func (m Mesh) checkEdges() (faults []Fault, fans sets) {
	fans = newSets(3 * len(m.Triangles))
	var byKind [numberOfFaultKinds + 1][]Fault
	m.eachEdge(func(lo, hi int32, halves []int32) {
		if f, bad := m.edgeFault(lo, hi, halves); bad {
			byKind[f.Kind] = append(byKind[f.Kind], f)
		}
		ends := func(h int32) (atLo, atHi int32) {
			if m.tail(h) == lo {
				return h, nextHalf(h)
			}
			return nextHalf(h), h
		}
		lo0, hi0 := ends(halves[0])
		for _, h := range halves[1:] {
			lo1, hi1 := ends(h)
			fans.join(lo0, lo1)
			fans.join(hi0, hi1)
		}
	})
	for _, list := range byKind {
		faults = append(faults, list...)
	}
	return faults, fans
}

// checkVertices finds vertices whose triangles form more than one fan.
func (m Mesh) checkVertices(fans sets) []Fault {
	count := make([]int, len(m.Vertices))
	first := make([]int32, len(m.Vertices))
	for c := range fans {
		if fans.find(int32(c)) == int32(c) {
			v := m.tail(int32(c))
			if count[v] == 0 {
				first[v] = int32(c) / 3
			}
			count[v]++
		}
	}
	var faults []Fault
	for i, n := range count {
		if n > 1 {
			v := int32(i)
			faults = append(faults, Fault{
				Kind: PinchedVertex, Triangle: first[i], Vertices: [2]int32{v, v}, Count: n, At: m.Vertices[i],
			})
		}
	}
	return faults
}

func (m Mesh) checkComponents() []Fault {
	label, n := m.components()
	volume, first, size := make([]sum, n), make([]int32, n), make([]int, n)
	for i := len(label) - 1; i >= 0; i-- {
		first[label[i]] = int32(i)
		size[label[i]]++
	}
	for i, l := range label {
		// From a vertex of its own: a needle's volume would drown in the
		// rounding of coordinates taken from far off.
		origin := m.Vertices[m.Triangles[first[l]][0]]
		a, b, c := m.corners(m.Triangles[i])
		volume[l].add(a.Sub(origin).Dot(b.Sub(origin).Cross(c.Sub(origin))))
	}
	var faults []Fault
	for l := range n {
		if volume[l].value() > 0 {
			continue
		}
		if m.winding(label, int32(l), first[l]) < 1 {
			a, b, c := m.corners(m.Triangles[first[l]])
			faults = append(faults, Fault{
				Kind: InsideOut, Triangle: first[l], Vertices: [2]int32{-1, -1}, Count: size[l],
				At: a.Add(b).Add(c).Scale(1.0 / 3),
			})
		}
	}
	return faults
}

// placesTried is how many triangles of a component are looked at for one that
// doesn't touch another component, and nearWhole how far from a whole number the
// winding round its middle may be. On a face it is ½ off, and rounding is far less.
const (
	placesTried = 64
	nearWhole   = 0.01
)

// winding returns how often the other components wind round one of them, whose
// first triangle is given.
func (m Mesh) winding(label []int32, component, first int32) int {
	tried, w := 0, 0.0
	for t := first; int(t) < len(label) && tried < placesTried; t++ {
		if label[t] != component {
			continue
		}
		a, b, c := m.corners(m.Triangles[t])
		w = m.windingWithout(a.Add(b).Add(c).Scale(1.0/3), label, component)
		if math.Abs(w-math.Round(w)) < nearWhole {
			break
		}
		tried++
	}
	return int(math.Round(w))
}

// windingWithout returns how often the components other than the given one wind
// round p, from the solid angles of their triangles. Source: A. van Oosterom
// and J. Strackee, "The solid angle of a plane triangle", IEEE Trans. Biomed.
// Eng. BME-30 (1983) 125–126, equation 8.
func (m Mesh) windingWithout(p Vec, label []int32, without int32) float64 {
	var angle sum
	for i, t := range m.Triangles {
		if label[i] == without {
			continue
		}
		a, b, c := m.corners(t)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Length(), b.Length(), c.Length()
		num := a.Dot(b.Cross(c))
		den := float64(float64(la*lb)*lc) + float64(a.Dot(b)*lc) + float64(b.Dot(c)*la) + float64(c.Dot(a)*lb)
		angle.add(2 * math.Atan2(num, den))
	}
	return angle.value() / (4 * math.Pi)
}
