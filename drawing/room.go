package drawing

// Room keeps what is down on a drawing, so that what comes next finds a free
// place: words, lines that no word may lie on, and bars that no leader may cross.
// Make one with [NewRoom].
type Room struct {
	area    Rect
	words   []Rect    // lettering: nothing over it, nothing through it
	lines   []Segment // dimension lines, poles, edges: no words on them
	leaders []Segment // the same, and other leaders rather not across
	bars    *Ground
	covered *Ground // areas that no words may lie on
}

// NewRoom is an empty room; words stay inside the area.
func NewRoom(area Rect) *Room {
	return &Room{area: area, bars: NewGround(area), covered: NewGround(area)}
}

// Words takes the place of lettering.
func (r *Room) Words(b Rect) { r.words = append(r.words, b) }

// Line takes a line that no words may lie on; leaders may cross it.
func (r *Room) Line(a, b Point) { r.lines = append(r.lines, Segment{a, b}) }

// Leader takes a leader's line.
func (r *Room) Leader(ps ...Point) {
	for i := 1; i < len(ps); i++ {
		r.leaders = append(r.leaders, Segment{ps[i-1], ps[i]})
	}
}

// Bar takes an area that no leader may cross, but for what the covers hide of it.
func (r *Room) Bar(p *Path, covers ...*Path) {
	r.bars.Fill(p, true)
	for _, c := range covers {
		r.bars.Fill(c, false)
	}
}

// Cover takes an area that no words may lie on.
func (r *Room) Cover(p *Path) { r.covered.Fill(p, true) }

// Take takes what the items of a scene from the given one on hold: all lettering,
// and the lines of dimensions, chains, flags and leaders.
func (r *Room) Take(s *Scene, from int) {
	var class []string
	for _, it := range s.Items[:min(from, len(s.Items))] {
		class = opened(class, it)
	}
	for _, it := range s.Items[min(from, len(s.Items)):] {
		class = opened(class, it)
		switch v := it.(type) {
		case Text:
			if !v.blank() {
				r.Words(v.Bounds())
			}
		case Drawn:
			if len(class) > 0 {
				r.takeLines(class[len(class)-1], v)
			}
		}
	}
}

// opened follows the classes of the groups that are open.
func opened(class []string, it Item) []string {
	switch v := it.(type) {
	case Group:
		return append(class, v.Class)
	case GroupEnd:
		return class[:max(0, len(class)-1)]
	}
	return class
}

func (r *Room) takeLines(class string, v Drawn) {
	switch class {
	case "dimension", "chain", "flag":
		for _, l := range v.Path.flat(1) {
			for i := 1; i < len(l.points); i++ {
				r.Line(l.points[i-1], l.points[i])
			}
		}
	case "leader", "label":
		for _, l := range v.Path.flat(1) {
			if !l.closed {
				r.Leader(l.points...)
			}
		}
	}
}

// Free reports whether words may stand in the box, so much clear of all others.
func (r *Room) Free(b Rect, gap float64) bool {
	if !r.area.Contains(b) || r.covered.Touches(b) {
		return false
	}
	wide := b.Inset(-gap)
	for _, w := range r.words {
		if w.Overlaps(wide) {
			return false
		}
	}
	for _, l := range r.lines {
		if b.crossesSegment(l.A, l.B) {
			return false
		}
	}
	for _, l := range r.leaders {
		if b.crossesSegment(l.A, l.B) {
			return false
		}
	}
	return true
}

// Lettered reports whether words lie in the box.
func (r *Room) Lettered(b Rect) bool {
	for _, w := range r.words {
		if w.Overlaps(b) {
			return true
		}
	}
	return false
}

// Write sets a line of letters where there is room for it, and reports whether.
func (r *Room) Write(s *Scene, t Text, gap float64) bool {
	b := t.Bounds()
	if t.blank() || !r.Free(b, gap) {
		return false
	}
	s.Text(t)
	r.Words(b)
	return true
}

// clear reports whether a leader may run from a to b: through no words, and over
// no bar but the one it begins on, where start is set.
func (r *Room) clear(a, b Point, start bool) bool {
	for _, w := range r.words {
		if w.crossesSegment(a, b) {
			return false
		}
	}
	return !r.bars.across(a, b, start)
}

// crossings counts what else the way from a to b runs across, and the leaders that
// it runs beside.
func (r *Room) crossings(a, b Point) (lines, leaders, beside int) {
	for _, l := range r.lines {
		if segmentsCross(a, b, l.A, l.B) {
			lines++
		}
	}
	for _, l := range r.leaders {
		switch {
		case segmentsCross(a, b, l.A, l.B):
			leaders++
		case near(a, b, l, besideGap):
			beside++
		}
	}
	return lines, leaders, beside
}

// near reports whether two lines that do not cross come nearer than a gap: then
// an end of one lies so near to the other.
func near(a, b Point, l Segment, gap float64) bool {
	if min(a.X, b.X)-gap > max(l.A.X, l.B.X) || max(a.X, b.X)+gap < min(l.A.X, l.B.X) ||
		min(a.Y, b.Y)-gap > max(l.A.Y, l.B.Y) || max(a.Y, b.Y)+gap < min(l.A.Y, l.B.Y) {
		return false
	}
	return distance(a, l.A, l.B) < gap || distance(b, l.A, l.B) < gap || distance(l.A, a, b) < gap || distance(l.B, a, b) < gap
}

// distance is how far a place lies from a line between two others.
func distance(p, a, b Point) float64 {
	d := b.Sub(a)
	long := d.X*d.X + d.Y*d.Y
	if long == 0 {
		return p.Dist(a)
	}
	t := ((p.X-a.X)*d.X + (p.Y-a.Y)*d.Y) / long
	return p.Dist(a.Add(d.Mul(min(max(t, 0), 1))))
}

// Mark is what a room held at a time.
type Mark struct{ words, lines, leaders int }

// Mark remembers what is down, for [Room.Back].
func (r *Room) Mark() Mark { return Mark{len(r.words), len(r.lines), len(r.leaders)} }

// Back takes up again the words, lines and leaders that were laid down since.
func (r *Room) Back(m Mark) {
	r.words, r.lines, r.leaders = r.words[:m.words], r.lines[:m.lines], r.leaders[:m.leaders]
}
