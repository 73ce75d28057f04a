package drawing

// Ending is how a leader ends at the thing it speaks of.
type Ending uint8

// Endings, by ISO 128-2:2020, leader lines: a dot inside the outline of a
// thing, an arrow on its outline, nothing on another line.
const (
	Dot Ending = iota
	Arrow
	Bare
)

// Leader is a line from a thing to its words: from Tip to Elbow, then level to
// the words, which stand to the right where the elbow is right of the tip, or
// to the left.
type Leader struct {
	ID     string
	Tip    Point
	Elbow  Point
	Lines  []string // the words, one under another; the first on the level line
	Ending Ending
	Owner  Owner
	Mark   bool
	Size   float64 // 0 is SizeBody
	Colour Colour  // None is the owner's
}

const (
	shelfLength = 2.5
	shelfPad    = 0.9
	lineHeight  = 1.36 // of the body size, between lines of one paragraph
	dotRadius   = 0.55
)

// Leader draws a leader.
func (s *Scene) Leader(l Leader) {
	size := l.Size
	if size == 0 {
		size = SizeBody
	}
	c := l.Colour
	if c == None {
		c = l.Owner.Colour()
	}
	title := ""
	if len(l.Lines) > 0 {
		title = l.Lines[0]
	}
	s.Begin(Group{ID: l.ID, Class: "leader", Title: title})
	defer s.End()
	dir, h := 1.0, Start
	if l.Elbow.X < l.Tip.X {
		dir, h = -1, End
	}
	shelf := l.Elbow.Add(Pt(dir*shelfLength, 0))
	s.Path(Polyline(l.Tip, l.Elbow, shelf), Lined(Fine.In(c)))
	s.ending(l.Tip, l.Elbow, l.Ending, c)
	at := shelf.Add(Pt(dir*shelfPad, size*capHeight/2))
	for i, t := range l.Lines {
		s.Text(Text{
			At: at.Add(Pt(0, float64(i)*size*lineHeight)), String: t, Face: l.Owner.Face(),
			Size: size, H: h, Colour: c, Halo: 0.6,
		})
	}
	if l.Mark && len(l.Lines) > 0 {
		x := Measure(l.Lines[0], l.Owner.Face(), size) + size*0.35
		if dir < 0 {
			x = -x - size*markSize
		}
		s.OwnerMark(at.Add(Pt(x, 0)), size, l.Owner)
	}
}

// ending draws the leader's end at tip, as the line arrives from the elbow.
func (s *Scene) ending(tip, elbow Point, e Ending, c Colour) {
	switch e {
	case Dot:
		s.Path(Circle(tip, dotRadius), Filled(c))
	case Arrow:
		d := tip.Dist(elbow)
		if d == 0 {
			return
		}
		// A closed arrow of 15 degrees (ISO 129-1), 2.5 mm long: half width
		// 2.5 tan(7.5 degrees) = 0.33.
		u := elbow.Sub(tip).Mul(1 / d)
		n := Pt(u.Y, -u.X).Mul(0.33)
		back := tip.Add(u.Mul(2.5))
		s.Path(Polygon(tip, back.Add(n), back.Sub(n)), Filled(c))
	}
}
