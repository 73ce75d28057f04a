package drawing

import (
	"cmp"
	"slices"
)

// Label is words that belong to a place and look for room near it.
type Label struct {
	ID      string
	At      Point   // the place it speaks of
	Station float64 // along the axis; with Grade it gives the order
	Grade   Grade
	Lines   []LabelLine
	Size    float64 // 0 is SizeBody
}

// LabelLine is one line of a Label.
type LabelLine struct {
	Text   string
	Face   Face
	Colour Colour // None is Ink
}

// PlaceOptions say where labels may go.
type PlaceOptions struct {
	Area      Rect    // labels stay inside
	Keep      []Rect  // the drawing: no words over it, though a leader must leave it
	Clear     []Rect  // other words and figures: no words over them, no leader across
	Gap       float64 // mm between labels; 0 is 1
	MaxLeader float64 // mm; 0 is 60
}

// Placed is where a Label went. Found is false where there was no room: then
// nothing is drawn, and the caller says the words elsewhere.
type Placed struct {
	Label
	Found  bool
	Box    Rect     // of the words
	Leader [2]Point // from the place to the words
	right  bool     // words start at the leader's end; else they end there
	centre bool     // words are centred over or under the leader's end
}

// leaderStep is the growth of the leaders tried, directions eight to a ring.
const leaderStep = 3.0

// directions tried on each ring: level ones last, for words beside their place
// hide more of the drawing than words above or below.
var directions = [...]Point{
	{0.7, -0.7},
	{-0.7, -0.7},
	{0.7, 0.7},
	{-0.7, 0.7},
	{0, -1},
	{0, 1},
	{0.4, -0.9},
	{-0.4, -0.9},
	{0.4, 0.9},
	{-0.4, 0.9},
	{1, 0},
	{-1, 0},
}

// PlaceLabels finds room for labels, greedily: blockers first, then cautions,
// notes and plain labels, each by station; the first candidate that fits is
// taken, the shortest leader first. The result is in the order of the input.
//
// Laws: no two boxes found overlap, nor a box and one of Keep or Clear; no
// leader runs through a box found, nor through one of Clear that its place is
// not in; every box lies in the area. It is not promised that the
// greatest possible number of labels is found.
func PlaceLabels(labels []Label, o PlaceOptions) []Placed {
	if o.Gap == 0 {
		o.Gap = 1
	}
	if o.MaxLeader == 0 {
		o.MaxLeader = 60
	}
	order := make([]int, len(labels))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(labels[j].Grade, labels[i].Grade),
			cmp.Compare(labels[i].Station, labels[j].Station))
	})
	out := make([]Placed, len(labels))
	var done []Placed
	for _, i := range order {
		out[i] = Placed{Label: labels[i]}
		// Leaders that cross are worse than long ones, but better than silence.
		for _, mayCross := range [2]bool{false, true} {
			if p, ok := place(labels[i], o, done, mayCross); ok {
				out[i] = p
				done = append(done, p)
				break
			}
		}
	}
	return out
}

func place(l Label, o PlaceOptions, done []Placed, mayCross bool) (Placed, bool) {
	w, h := l.extent()
	for r := leaderStep; r <= o.MaxLeader; r += leaderStep {
		for _, dir := range directions {
			p := Placed{Label: l, Found: true}
			end := l.At.Add(dir.Mul(r))
			p.Leader = [2]Point{l.At, end}
			switch {
			case dir.X == 0 && dir.Y < 0:
				p.centre = true
				p.Box = Rect{end.X - w/2, end.Y - h - shelfPad, w, h}
			case dir.X == 0:
				p.centre = true
				p.Box = Rect{end.X - w/2, end.Y + shelfPad, w, h}
			case dir.X > 0:
				p.right = true
				p.Box = Rect{end.X + shelfPad, end.Y - l.firstMiddle(), w, h}
			default:
				p.Box = Rect{end.X - shelfPad - w, end.Y - l.firstMiddle(), w, h}
			}
			if p.free(o, done, mayCross) {
				return p, true
			}
		}
	}
	return Placed{}, false
}

// free tests one candidate against all that is already down.
func (p *Placed) free(o PlaceOptions, done []Placed, mayCross bool) bool {
	if !o.Area.Contains(p.Box) {
		return false
	}
	a, b := p.Leader[0], p.Leader[1]
	wide := p.Box.Inset(-o.Gap)
	for _, k := range o.Keep {
		if k.Overlaps(wide) {
			return false
		}
	}
	for _, k := range o.Clear {
		// A place inside such a box must lead out of it.
		if k.Overlaps(wide) || (!holds(k, a) && k.crossesSegment(a, b)) {
			return false
		}
	}
	for i := range done {
		d := &done[i]
		if d.Box.Overlaps(wide) || d.Box.crossesSegment(a, b) ||
			p.Box.crossesSegment(d.Leader[0], d.Leader[1]) {
			return false
		}
		if !mayCross && segmentsCross(a, b, d.Leader[0], d.Leader[1]) {
			return false
		}
	}
	return true
}

// holds reports whether p lies inside r; a place on its edge does not, and its
// leader must turn away.
func holds(r Rect, p Point) bool {
	return p.X > r.X && p.X < r.X+r.W && p.Y > r.Y && p.Y < r.Y+r.H
}

// segmentsCross reports whether a-b and c-d cross at inner points. It decides
// only which of two good places is the prettier, so rounding may err.
func segmentsCross(a, b, c, d Point) bool {
	side := func(p, q, r Point) bool {
		return float64((q.X-p.X)*(r.Y-p.Y)) > float64((q.Y-p.Y)*(r.X-p.X))
	}
	return side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}

func (l Label) size() float64 {
	if l.Size == 0 {
		return SizeBody
	}
	return l.Size
}

// extent is the size of the words' box.
func (l Label) extent() (w, h float64) {
	for _, t := range l.Lines {
		w = max(w, Measure(t.Text, t.Face, l.size()))
	}
	n := max(1, len(l.Lines))
	return w, l.size() * (ascent + descent + float64(n-1)*lineHeight)
}

// firstMiddle is the way from the box's top to the middle of its first line.
func (l Label) firstMiddle() float64 { return l.size() * (ascent - capHeight/2) }

// Labels draws the labels that were found room, each with its leader.
func (s *Scene) Labels(ps []Placed) {
	for _, p := range ps {
		if !p.Found {
			continue
		}
		title := ""
		if len(p.Lines) > 0 {
			title = p.Lines[0].Text
		}
		c := Ink
		if p.Grade > Plain {
			c = Signal
		}
		s.Begin(Group{ID: p.ID, Class: "label", Title: title})
		s.Line(p.Leader[0], p.Leader[1], Fine.In(c))
		s.ending(p.Leader[0], p.Leader[1], Dot, c)
		x, h := p.Box.X+p.Box.W, End
		switch {
		case p.centre:
			x, h = p.Leader[1].X, Middle
		case p.right:
			x, h = p.Box.X, Start
		}
		for i, t := range p.Lines {
			y := p.Box.Y + p.size()*(ascent+float64(i)*lineHeight)
			s.Text(Text{At: Pt(x, y), String: t.Text, Face: t.Face, Size: p.size(), H: h, Colour: t.Colour, Halo: 0.6})
		}
		s.End()
	}
}
