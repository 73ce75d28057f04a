package drawing

// Owner says whether a dimension is of the shop and stays, or is of the
// reference and grows with the enlargement. Shop is upright ink, Reference is
// pencil italic; each has its mark, so that nothing is told by colour alone.
type Owner uint8

// The owners.
const (
	Shop Owner = iota
	Reference
)

// Colour is the ink of the owner's figures and lines.
func (o Owner) Colour() Colour {
	if o == Reference {
		return Pencil
	}
	return Ink
}

// Face is the face of the owner's figures.
func (o Owner) Face() Face {
	if o == Reference {
		return Italic
	}
	return Regular
}

// markSize is the side of an owner's mark for letters of 1 mm body size.
const markSize = 0.8

// frameOf is a place on the paper with its own directions: along the reading
// line and up from it.
type frameOf struct{ at, along, up Point }

func (f frameOf) point(x, y float64) Point { return f.at.Add(f.along.Mul(x)).Add(f.up.Mul(y)) }

func (f frameOf) path(size float64, xy ...float64) *Path {
	t := &Path{}
	for i := 0; i+1 < len(xy); i += 2 {
		t.Line(f.point(xy[i]*size, xy[i+1]*size))
	}
	return t
}

// OwnerMark draws the owner's mark with its lower left corner at the point:
// a triangle nested in a triangle for the reference, a block on the ground for
// the shop. It returns the mark's width.
func (s *Scene) OwnerMark(at Point, size float64, o Owner) float64 {
	return s.ownerMark(frameOf{at, Pt(1, 0), Pt(0, -1)}, size, o)
}

func (s *Scene) ownerMark(f frameOf, size float64, o Owner) float64 {
	side := size * markSize
	thin := Fine.In(o.Colour())
	if o == Reference {
		s.Path(f.path(side, 0, 0, 1, 0, 1, 1).Close(), Lined(thin))
		s.Path(f.path(side, 0.52, 0, 1, 0, 1, 0.48).Close(), Filled(o.Colour()))
		return side
	}
	s.Path(f.path(side, 0, 0, 1, 0), Lined(thin.Wide(ThinWidth)))
	s.Path(f.path(side, 0.2, 0, 0.2, 0.75, 0.8, 0.75, 0.8, 0), Lined(thin))
	return side
}
