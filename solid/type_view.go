package solid

import "math"

// View says from where solids are looked at, and which of their edges count. The
// projection is parallel. The zero value has no direction and is refused; start
// from [Isometric] or give an Eye.
type View struct {
	// Eye points from the drawing to whoever looks at it.
	Eye Vec
	// Up is what shows upwards on the paper, as near as it can. Zero: z, or y
	// where Eye is along z.
	Up Vec
	// Crease is the angle, in radians: where two faces turn by more, the edge
	// between them is drawn even where it is no silhouette; 0: [DefaultCrease].
	Crease float64
	// Section, if it has a normal, cuts all solids open: what lies on the eye's
	// side of it is taken away.
	Section Plane
}

// DefaultCrease is the turn at an edge above which it is drawn, 30°: no less than
// between the flats of a round of 12 segments or more, and less than at any edge
// that somebody would call one. Common practice, not a standard.
const DefaultCrease = math.Pi / 6

// Isometric is the view in which the three axes are equally long: x to the right
// and down, y to the right and up, z up, from in front.
func Isometric() View { return View{Eye: Vec{1, -1, 1}} }

// Placed is a solid at a place: its own copy of a mesh, moved. Exploded views are
// other placements of the same solids.
type Placed struct {
	// ID comes back with everything drawn of the solid.
	ID   string
	Mesh Mesh
	// At moves the mesh to its place. The zero value is no placement and refused:
	// start from [Identity].
	At Transform
}

// Frame returns the axes of the paper: U to the right, V up, N to the eye.
func (v View) Frame() (Frame, error) {
	if !v.Eye.finite() || v.Eye == (Vec{}) {
		return Frame{}, &ValueError{"length of the view's direction", v.Eye.Length(), "positive and finite"}
	}
	if !v.Up.finite() {
		return Frame{}, &ValueError{"length of the view's up", v.Up.Length(), "finite"}
	}
	f := Frame{N: v.Eye.Unit()}
	for _, up := range [...]Vec{v.Up, {0, 0, 1}, {0, 1, 0}} {
		across := up.Unit().Cross(f.N)
		if across.Length() < leastUp {
			continue
		}
		f.U = across.Unit()
		f.V = f.N.Cross(f.U).Unit()
		break
	}
	for i := range 3 {
		// + 0 turns −0 into 0, which files would print with its sign.
		f.U[i], f.V[i], f.N[i] = f.U[i]+0, f.V[i]+0, f.N[i]+0
	}
	return f, nil
}

// leastUp is the least sine of the angle between Up and Eye at which Up still says
// what is up, and of that between a section plane and Eye: at 1e-6 the paper turns
// by a thousandth of a degree with the eleventh digit of Up.
const leastUp = 1e-6

func (v View) check() error {
	if !(v.Crease >= 0 && v.Crease <= math.Pi) {
		return &ValueError{"crease angle of the view", v.Crease, "0 to π"}
	}
	if v.Section == (Plane{}) {
		return nil
	}
	if err := v.Section.check(); err != nil {
		return err
	}
	if s := v.Section.Normal.Unit().Dot(v.Eye.Unit()); math.Abs(s) < leastUp {
		return &ValueError{"sine of the section plane's angle to the view", s, "not 0: the plane is seen edge-on"}
	}
	return nil
}

func checkPlaced(solids []Placed) error {
	for _, s := range solids {
		if d := s.At.Det(); d == 0 || d-d != 0 || !s.At.T.finite() {
			return &ValueError{"determinant of the placement of " + s.ID, d, "finite and not 0"}
		}
		if err := s.Mesh.checkTree(); err != nil {
			return err
		}
	}
	return nil
}
