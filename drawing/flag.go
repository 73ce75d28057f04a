package drawing

// Grade is how bad a finding is; Plain is no finding.
type Grade uint8

// The grades, the least first.
const (
	Plain Grade = iota
	Note
	Caution
	Blocker
)

// Flag marks a finding: a pennant on a pole whose foot stands on the offending
// place. A blocker's pennant is filled, a caution's in its lower half, a
// note's is open, so that it is told without colour.
type Flag struct {
	ID     string
	Foot   Point
	Grade  Grade
	Height float64 // of the pole; 0 is FlagHeight
	Left   bool    // the pennant flies to the left
	Dot    bool    // a dot at the foot, where it stands on a drawing
	Title  string  // the finding as said aloud
	Data   [][2]string
}

// FlagHeight is the height of a pole, and pennant sizes go with it.
const (
	FlagHeight    = 6.0
	pennantLength = 4.0
	pennantHeight = 3.2
)

// Flag draws a flag.
func (s *Scene) Flag(f Flag) {
	h := f.Height
	if h == 0 {
		h = FlagHeight
	}
	dir := 1.0
	if f.Left {
		dir = -1
	}
	top := Pt(f.Foot.X, f.Foot.Y-h)
	tip := top.Add(Pt(dir*pennantLength, pennantHeight/2))
	half := top.Add(Pt(0, pennantHeight/2))
	foot := top.Add(Pt(0, pennantHeight))
	line := Object.In(Signal)
	fill := Sheet
	if f.Grade == Blocker {
		fill = Signal
	}
	s.Begin(Group{ID: f.ID, Class: "flag", Role: "img", Title: f.Title, Data: f.Data})
	defer s.End()
	s.Line(f.Foot, top, line)
	s.Path(Polygon(top, tip, foot), Style{Fill: fill, Stroke: line})
	if f.Grade == Caution {
		s.Path(Polygon(half, tip, foot), Filled(Signal))
	}
	if f.Dot {
		s.Path(Circle(f.Foot, dotRadius+0.15), Filled(Signal))
	}
}
