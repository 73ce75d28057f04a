package drawing

// Cell is one field of a title block: a small caption over its value. A value
// too wide is set smaller, and in the end shortened.
type Cell struct {
	Caption string
	Value   string
	Width   float64 // share of the row
	Size    float64 // of the value; 0 is SizeBody
	Face    Face    // Regular takes the owner's
	Owner   Owner
	// Projection draws the first angle mark at the cell's right end.
	Projection bool
}

// TitleRow is a row of cells of one height.
type TitleRow struct {
	Height float64
	Cells  []Cell
}

// TitleBlock is the ruled block at the lower right of a sheet. Its fields are
// data: those that ISO 7200:2004 asks for are owner, number, date of issue,
// sheet, title, approved by, drawn by and kind of document.
type TitleBlock struct {
	Width float64 // 0 is TitleWidth
	Rows  []TitleRow
}

// TitleWidth is the width of a title block (ISO 7200:2004, 180 mm).
const TitleWidth = 180.0

const (
	cellPad      = 1.8
	captionDrop  = 3.5 // baseline of a caption below the cell's top
	minCellValue = 2.4
)

// Height is the height of the block.
func (b TitleBlock) Height() float64 {
	h := 0.0
	for _, r := range b.Rows {
		h += r.Height
	}
	return h
}

// TitleBlock draws the block into the lower right corner of the area and
// returns its box, so that the caller can keep clear of it.
func (s *Scene) TitleBlock(area Rect, b TitleBlock) Rect {
	w := b.Width
	if w == 0 {
		w = min(TitleWidth, area.W)
	}
	h := b.Height()
	box := Rect{area.X + area.W - w, area.Y + area.H - h, w, h}
	s.Begin(Group{ID: "title-block", Class: "title-block", Title: "Title block"})
	defer s.End()
	s.Rect(box, Filled(Sheet))
	y := box.Y
	for i, r := range b.Rows {
		if i > 0 {
			s.Line(Pt(box.X, y), Pt(box.X+w, y), Thin)
		}
		total := 0.0
		for _, c := range r.Cells {
			total += c.Width
		}
		x := box.X
		for j, c := range r.Cells {
			cw := w * c.Width / total
			if j > 0 {
				s.Line(Pt(x, y), Pt(x, y+r.Height), Thin)
			}
			s.cell(Rect{x, y, cw, r.Height}, c)
			x += cw
		}
		y += r.Height
	}
	s.Rect(box, Lined(Object.Wide(FrameWidth)))
	return box
}

func (s *Scene) cell(r Rect, c Cell) {
	face := c.Face
	if face == Regular {
		face = c.Owner.Face()
	}
	size := c.Size
	if size == 0 {
		size = SizeBody
	}
	room := r.W - 2*cellPad
	if c.Projection {
		const markHeight = 7
		w := ProjectionWidth(markHeight)
		s.ProjectionMark(Pt(r.X+r.W-cellPad-w, r.Y+r.H/2), markHeight)
		room -= w + 2*cellPad
	}
	if w := Measure(c.Value, face, size); w > room {
		size = max(minCellValue, size*room/w)
	}
	s.Text(Text{
		At: Pt(r.X+cellPad, r.Y+captionDrop), String: Shorten(c.Caption, Regular, SizeCaption, room),
		Size: SizeCaption, Colour: Ink3,
	})
	// The value stands in what is left under the caption.
	mid := r.Y + captionDrop + (r.H-captionDrop)/2
	s.Text(Text{
		At: Pt(r.X+cellPad, mid), V: Centre, String: Shorten(c.Value, face, size, room),
		Face: face, Size: size, Colour: c.Owner.Colour(),
	})
}

// ProjectionWidth is the width of a projection mark of the given height.
func ProjectionWidth(height float64) float64 { return height * 2.5 }

// ProjectionMark draws the mark of first angle projection (ISO 5456-2:1996): a
// truncated cone lying with its small end to the left, and right of it what is
// seen from the left. The left end of its axis is at the point. The proportions
// are ours: ends as 1 to 2, as long as the large end, the views half as far
// apart.
func (s *Scene) ProjectionMark(at Point, height float64) {
	d := height
	s.Begin(Group{Class: "projection", Title: "First angle projection"})
	defer s.End()
	s.Path(Polygon(
		at.Add(Pt(0, -d/4)), at.Add(Pt(d, -d/2)), at.Add(Pt(d, d/2)), at.Add(Pt(0, d/4)),
	), Lined(Thin))
	c := at.Add(Pt(2*d, 0))
	s.Path(Circle(c, d/2), Lined(Thin))
	s.Path(Circle(c, d/4), Lined(Thin))
	axis := Stroke{Ink, HairWidth, []float64{d / 4, d / 16, d / 16, d / 16}}
	s.Line(at.Add(Pt(-d/10, 0)), at.Add(Pt(d*1.1, 0)), axis)
	s.Line(c.Add(Pt(-d*0.58, 0)), c.Add(Pt(d*0.58, 0)), axis)
	s.Line(c.Add(Pt(0, -d*0.58)), c.Add(Pt(0, d*0.58)), axis)
}

// CheckBarHeight is the room a check bar takes with one line of note.
const CheckBarHeight = 14.0

// CheckBar draws a bar of exactly 100 mm, its upper left figure's baseline at
// the point's y, with a note beneath; it shows whether a printer has kept the
// scale. It returns the height used.
func (s *Scene) CheckBar(at Point, note string) float64 {
	s.checkBar(at, 100, false, "100")
	const high = 5.4
	if note == "" {
		return high
	}
	return high + 1 + s.Paragraph(Paragraph{
		At: Pt(at.X, at.Y+high+1), Width: 110, Spans: Plainly(note), Size: SizeSmall,
	})
}

// CheckBars draws two bars of exactly 100 mm: one to the right of a place, one
// upright from another. A printer may stretch the two ways differently.
func (s *Scene) CheckBars(across, upright Point) {
	s.checkBar(across, 100, false, "100 mm")
	s.checkBar(upright, 100, true, "100 mm")
}

// checkBar draws a bar of ten fields, so long that the printer brings it out at
// 100 mm: to the right of a place, or upright from it. last is lettered at its end.
func (s *Scene) checkBar(at Point, long float64, upright bool, last string) {
	s.Begin(Group{ID: "check-bar", Class: "check-bar", Title: "Check bar, 100 mm"})
	defer s.End()
	put := func(along, across float64) Point { return at.Add(Pt(along, across)) }
	turn := 0.0
	if upright {
		put = func(along, across float64) Point { return at.Add(Pt(across, -along)) }
		turn = -90
	}
	const top, high = 2.4, 3.0
	for i := range 10 {
		fill := Sheet
		if i%2 == 0 {
			fill = Ink
		}
		from, to := long*float64(i)/10, long*float64(i+1)/10
		s.Path(Polygon(put(from, top), put(to, top), put(to, top+high), put(from, top+high)), Style{Fill: fill, Stroke: Thin})
	}
	for i := range 11 {
		s.Line(put(long*float64(i)/10, top-1.5), put(long*float64(i)/10, top), Thin)
	}
	for i, t := range [...]string{"0", "50", last} {
		s.Text(Text{At: put(long*float64(i)/2, 0), String: t, Size: SizeSmall, H: Middle, Rotate: turn})
	}
}
