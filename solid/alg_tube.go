package solid

// TubeSize is the size of a [Tube].
type TubeSize struct {
	Outer, Bore float64 // radii of the corners outside and inside; the bore may be 0: a rod
	Low, High   float64 // stations of the two ends
	Segments    int     // flats round it, at least 3
}

// Tube returns a straight tube about +Z. As with [Turn] it is the corners that
// lie on the circles: for a pipe of radius r to pass the bore must be at least
// r·[FacetScale].
func Tube(s TubeSize) (Mesh, error) {
	if !(s.Bore >= 0) {
		return Mesh{}, &ValueError{"bore", s.Bore, "0 or more"}
	}
	if !(s.Outer > s.Bore) || s.Outer-s.Outer != 0 {
		return Mesh{}, &ValueError{"outer radius", s.Outer, "finite and more than the bore"}
	}
	if s.Low-s.Low != 0 {
		return Mesh{}, &ValueError{"low end", s.Low, "finite"}
	}
	if !(s.High > s.Low) || s.High-s.High != 0 {
		return Mesh{}, &ValueError{"high end", s.High, "finite and above the low end"}
	}
	return Turn([]PointRZ{{s.Bore, s.Low}, {s.Outer, s.Low}, {s.Outer, s.High}, {s.Bore, s.High}}, s.Segments)
}
