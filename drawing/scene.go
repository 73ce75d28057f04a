package drawing

// Scene is one drawing: a sheet of paper and, in order, what lies on it, the
// first item lowest. Make one with [New] or [NewSheet]; the zero Scene has no
// size and is refused by the writers.
type Scene struct {
	Width, Height float64 // mm
	Title, Desc   string  // said aloud, and shown by readers of the SVG
	Items         []Item
}

// New returns an empty Scene of the given size in millimetres.
func New(width, height float64) *Scene { return &Scene{Width: width, Height: height} }

// Item is one thing on a Scene: [Drawn], [Text], [Image], [Link], [Group] or
// [GroupEnd].
type Item interface {
	// moved returns the item moved by d, its id prefixed.
	moved(d Point, prefix string) Item
}

// Drawn is a path with its paint.
type Drawn struct {
	ID    string
	Path  *Path
	Style Style
}

// Group opens a group; it lasts to the matching [GroupEnd]. Title is said
// aloud and shown by a pointer at rest. Class, Role and Data go to the SVG
// alone: each of Data is a name of small letters and hyphens and its value,
// written as a data-NAME attribute. What lies in the group shows inside Clip
// alone, where that is given.
type Group struct {
	ID, Class, Role, Title string

	Data [][2]string
	Clip *Rect
}

// GroupEnd closes the group opened last.
type GroupEnd struct{}

// Link is an area that leads elsewhere: to the [Page] with the id To, or to an
// http, https or mailto address in URL.
type Link struct {
	Area Rect
	To   string
	URL  string
}

func (g Group) moved(d Point, prefix string) Item {
	g.ID = prefixed(prefix, g.ID)
	if g.Clip != nil {
		clip := *g.Clip
		clip.X, clip.Y = clip.X+d.X, clip.Y+d.Y
		g.Clip = &clip
	}
	return g
}

func (g GroupEnd) moved(Point, string) Item { return g }

func (k Link) moved(d Point, _ string) Item { k.Area.X += d.X; k.Area.Y += d.Y; return k }

func (p Drawn) moved(d Point, prefix string) Item {
	p.ID = prefixed(prefix, p.ID)
	p.Path = p.Path.Moved(d)
	return p
}

func prefixed(prefix, id string) string {
	if id == "" {
		return ""
	}
	return prefix + id
}

// Add appends items.
func (s *Scene) Add(items ...Item) { s.Items = append(s.Items, items...) }

// Begin opens a group; End closes it.
func (s *Scene) Begin(g Group) { s.Add(g) }

// End closes the group opened last.
func (s *Scene) End() { s.Add(GroupEnd{}) }

// Path draws a path. The Scene keeps it: don't change it afterwards.
func (s *Scene) Path(p *Path, style Style) { s.Add(Drawn{Path: p, Style: style}) }

// Line draws a straight line.
func (s *Scene) Line(a, b Point, stroke Stroke) { s.Path(Polyline(a, b), Lined(stroke)) }

// Rect draws an upright box.
func (s *Scene) Rect(r Rect, style Style) { s.Path(Box(r), style) }

// Link lays a link over an area.
func (s *Scene) Link(area Rect, to string) { s.Add(Link{Area: area, To: to}) }

// Place draws another Scene on this one with its corner at the given point and
// its ids prefixed. Nothing is clipped: the other Scene's size is not used.
func (s *Scene) Place(other *Scene, at Point, idPrefix string) {
	for _, it := range other.Items {
		s.Add(it.moved(at, idPrefix))
	}
}
