package solid

import "math"

// cutOpen takes away what lies above a plane whose normal points to the eye's
// side. It returns the face of the cut as it is seen, and the rest.
func (s *scene) cutOpen(m Mesh, p Plane) ([]Region, Mesh, error) {
	_, below, err := Cut(m, p)
	if err != nil {
		return nil, Mesh{}, err
	}
	// A vertex on the plane counts as above it, so a face in the plane that belongs
	// to the rest is a face of the section too.
	slice, err := Section(m, p)
	if err != nil {
		return nil, Mesh{}, err
	}
	var out []Region
	for _, r := range slice.Regions {
		seen := Region{Outer: s.seen(slice.Frame, r.Outer)}
		for _, hole := range r.Holes {
			seen.Holes = append(seen.Holes, s.seen(slice.Frame, hole))
		}
		out = append(out, seen)
	}
	return out, below, nil
}

// seen takes a loop of a plane that looks at the eye to the paper; it keeps its way
// round.
func (s *scene) seen(f Frame, loop []Point) []Point {
	out := make([]Point, len(loop))
	for i, q := range loop {
		at := f.Lift(q)
		out[i] = Point{at.Dot(s.frame.U), at.Dot(s.frame.V)}
	}
	return out
}

// markCut notes which of the vertices just added lie on the section plane.
func (s *scene) markCut(m Mesh, p Plane) {
	far := 0.0
	for _, q := range m.Vertices {
		far = max(far, math.Abs(q[0]), math.Abs(q[1]), math.Abs(q[2]))
	}
	n := p.Normal.Unit()
	offset := p.Offset / p.Normal.Length()
	for _, q := range m.Vertices {
		s.onCut = append(s.onCut, math.Abs(n.Dot(q)-offset) <= coincidenceAfar*max(far, math.Abs(offset)))
	}
	s.cutN = Vec{n.Dot(s.frame.U), n.Dot(s.frame.V), n.Dot(s.frame.N)}
}

// isCut reports whether a triangle lies in the section plane and looks out of it.
func (s *scene) isCut(triangle int32) bool {
	if s.onCut == nil {
		return false
	}
	t := s.mesh.Triangles[triangle]
	return s.onCut[t[0]] && s.onCut[t[1]] && s.onCut[t[2]] && s.normal[triangle].Dot(s.cutN) > 0
}
