package drawing

import (
	"math"
	"strconv"
)

// Axis is the direction a dimension measures in.
type Axis uint8

// The axes. Aligned measures along the line between the points.
const (
	Horizontal Axis = iota
	Vertical
	Aligned
)

// Dimension is a dimension line after the habits of ISO 129-1:2018: extension
// lines that start clear of the outline and pass a little beyond the dimension
// line, oblique strokes for ends, and the finished figure in a break of the
// line, read from below or from the right.
//
// The figure goes beside the line where the break would not leave room.
type Dimension struct {
	ID   string
	From Point // the two places measured between
	To   Point
	Axis Axis
	// At is where the dimension line lies: its y for Horizontal, its x for
	// Vertical, and for Aligned its distance from the points, to the side
	// that is up for the reader.
	At   float64
	Text string
	// Owner gives colour and face, and Mark adds the owner's mark.
	Owner Owner
	Mark  bool
	Above bool // figure above an unbroken line
	// NoExtension leaves out the extension lines, for a diameter drawn through
	// the body.
	NoExtension bool
	Shift       float64 // mm the figure is moved along the line, as it reads
	Size        float64 // of the figure; 0 is SizeFigure
	Title       string  // said aloud; the figure alone where empty

	lift float64 // more height for a figure above, where a chain staggers them
}

const (
	// extensionGap and extensionOver: ISO 129-1 lets an extension line start
	// eight line widths clear and end eight beyond; 8 x 0.18 mm is 1.44.
	extensionGap  = 1.0
	extensionOver = 1.4
	figurePad     = 1.1 // between figure and line
	stubLength    = 4.0 // of the line that leads to a figure outside
)

// ends returns the dimension line's ends in reading order, and the points
// they belong to.
func (d Dimension) ends() (a, b, pa, pb Point) {
	pa, pb = d.From, d.To
	switch d.Axis {
	case Horizontal:
		if pa.X > pb.X {
			pa, pb = pb, pa
		}
		return Pt(pa.X, d.At), Pt(pb.X, d.At), pa, pb
	case Vertical:
		if pa.Y < pb.Y {
			pa, pb = pb, pa
		}
		return Pt(d.At, pa.Y), Pt(d.At, pb.Y), pa, pb
	}
	// Read from below, or from the right where it stands upright.
	if pa.X > pb.X || (pa.X == pb.X && pa.Y < pb.Y) {
		pa, pb = pb, pa
	}
	l := pa.Dist(pb)
	if l == 0 {
		return pa, pb, pa, pb
	}
	u := pb.Sub(pa).Mul(1 / l)
	off := Pt(u.Y, -u.X).Mul(d.At)
	return pa.Add(off), pb.Add(off), pa, pb
}

// Dimension draws a dimension line.
func (s *Scene) Dimension(d Dimension) {
	size := d.Size
	if size == 0 {
		size = SizeFigure
	}
	a, b, pa, pb := d.ends()
	length := a.Dist(b)
	u := Pt(1, 0)
	switch {
	case length > 0:
		u = b.Sub(a).Mul(1 / length)
	case d.Axis == Vertical:
		u = Pt(0, -1)
	}
	f := frameOf{a, u, Pt(u.Y, -u.X)}
	line := Thin.In(d.Owner.Colour())
	title := d.Title
	if title == "" {
		title = d.Text
	}
	s.Begin(Group{ID: d.ID, Class: "dimension", Title: title})
	defer s.End()

	if !d.NoExtension {
		s.extension(pa, a, line.Wide(FineWidth))
		s.extension(pb, b, line.Wide(FineWidth))
	}
	for _, x := range [2]float64{0, length} {
		s.Line(f.point(x-TickSize, -TickSize), f.point(x+TickSize, TickSize), line.Wide(ObjectWidth))
	}

	face := d.Owner.Face()
	wide := Measure(d.Text, face, size)
	mark := 0.0
	if d.Mark {
		mark = size * (markSize + 0.35)
	}
	whole := wide + mark
	mid := length/2 + d.Shift
	from, to := mid-whole/2-figurePad, mid+whole/2+figurePad
	rise := 0.0
	// Letters narrower than those measured stay in the middle of their break.
	h, anchor := Middle, wide/2
	switch {
	case d.Text == "":
		s.Line(a, b, line)
		return
	case d.Above:
		from += figurePad
		rise = size*capHeight/2 + 0.9 + d.lift
		if whole > length {
			rise += extensionOver // clear of the extension lines' ends
		}
		s.Line(a, b, line)
	case !d.fits(length, whole):
		// No room between the ticks: lead the line out past the reading end.
		from = length + stubLength + figurePad/2
		h, anchor = Start, 0
		s.Line(f.point(-2*TickSize, 0), f.point(length+stubLength, 0), line)
	default:
		s.Line(a, f.point(from, 0), line)
		s.Line(f.point(to, 0), b, line)
		from += figurePad
	}
	deg := math.Atan2(u.Y, u.X) * 180 / math.Pi
	s.Text(Text{
		At: f.point(from+anchor, rise-size*capHeight/2), H: h, String: d.Text, Face: face, Size: size,
		Colour: d.Owner.Colour(), Halo: 0.7, Rotate: deg,
	})
	if d.Mark {
		m := f
		m.at = f.point(from+wide+size*0.35, rise-size*capHeight/2)
		s.ownerMark(m, size, d.Owner)
	}
}

// fits reports whether the figure has its break between the ticks.
func (d Dimension) fits(length, whole float64) bool {
	const clear = 1.5 * TickSize
	mid := length/2 + d.Shift
	half := whole/2 + figurePad
	return mid-half >= clear && mid+half <= length-clear
}

// extension draws the line from near the measured point p to a little past
// the dimension line's end e.
func (s *Scene) extension(p, e Point, stroke Stroke) {
	l := p.Dist(e)
	if l <= extensionGap {
		return
	}
	u := e.Sub(p).Mul(1 / l)
	s.Line(p.Add(u.Mul(extensionGap)), e.Add(u.Mul(extensionOver)), stroke)
}

// Chain draws a row of horizontal dimensions on one line at y, from point to
// point. Each extension line starts at its point and is drawn once; texts are
// one fewer than points, which stand in order along x. A figure without room
// in its break stands above the line, in steps where neighbours would meet.
// Single dimensions get the chain's id with their number behind it.
func (s *Scene) Chain(id string, y float64, points []Point, texts []string, o Owner) {
	s.Begin(Group{ID: id, Class: "chain"})
	defer s.End()
	taken := []float64{} // right ends of the raised figures, by step
	for i, p := range points {
		s.extension(p, Pt(p.X, y), Fine.In(o.Colour()))
		if i == 0 || i > len(texts) {
			continue
		}
		d := Dimension{
			ID: numbered(id, i), From: points[i-1], To: p, At: y, Text: texts[i-1], Owner: o, NoExtension: true,
		}
		length, whole := p.X-points[i-1].X, Measure(d.Text, o.Face(), SizeFigure)
		if !d.fits(length, whole) && d.Text != "" {
			left := (p.X+points[i-1].X)/2 - whole/2
			step := 0
			for step < len(taken) && taken[step] > left-figurePad {
				step++
			}
			if step == len(taken) {
				taken = append(taken, 0)
			}
			taken[step] = left + whole
			d.Above = true
			d.lift = float64(step) * SizeFigure * lineHeight
		}
		s.Dimension(d)
	}
}

func numbered(id string, i int) string {
	if id == "" {
		return ""
	}
	return id + "-" + strconv.Itoa(i)
}
