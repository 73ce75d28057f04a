package drawing

// Column is a column of a [Table]. Numbers are set with Align End, so that
// their units stand under one another.
type Column struct {
	Head  string
	Width float64 // mm
	Align HAlign
	Face  Face
}

// Row is a row of a [Table]. Cells beyond the columns are not drawn, and a
// row may have fewer. Face, where not Regular, stands for the columns'.
type Row struct {
	ID    string
	Cells []string
	Face  Face
	Tint  Colour
	To    string // id of a Page the row leads to
}

// Table is ruled rows under a head. Cells wrap in their columns.
type Table struct {
	ID      string
	Columns []Column
	Rows    []Row
	Size    float64 // of letters; 0 is SizeBody
}

const (
	tablePad  = 1.5 // left and right of a cell
	tableRise = 0.9 // above and below the lines of a cell
)

func (t Table) size() float64 {
	if t.Size == 0 {
		return SizeBody
	}
	return t.Size
}

// Width is the sum of the columns.
func (t Table) Width() float64 {
	w := 0.0
	for _, c := range t.Columns {
		w += c.Width
	}
	return w
}

func (t Table) face(r Row, col int) Face {
	if r.Face != Regular {
		return r.Face
	}
	return t.Columns[col].Face
}

// cellLines are the lines of each cell of the row.
func (t Table) cellLines(r Row) [][]string {
	out := make([][]string, len(t.Columns))
	for i, c := range t.Columns {
		if i < len(r.Cells) {
			out[i] = Wrap(r.Cells[i], t.face(r, i), t.size(), c.Width-2*tablePad)
		}
	}
	return out
}

func (t Table) rowHeight(cells [][]string) float64 {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	return float64(n)*t.size()*lineHeight + 2*tableRise
}

func (t Table) head() Row {
	r := Row{}
	for _, c := range t.Columns {
		r.Cells = append(r.Cells, c.Head)
	}
	return r
}

// headTable letters the head, a little smaller than the rows and upright.
func (t Table) headTable() Table {
	t.Columns = append([]Column(nil), t.Columns...)
	for i := range t.Columns {
		t.Columns[i].Face = Regular
	}
	t.Size = t.size() * SizeSmall / SizeBody
	return t
}

func (t Table) headHeight() float64 {
	h := t.headTable()
	return h.rowHeight(h.cellLines(h.head())) + tableRise
}

// Height is the height of the whole table.
func (t Table) Height() float64 {
	h := t.headHeight()
	for _, r := range t.Rows {
		h += t.rowHeight(t.cellLines(r))
	}
	return h
}

// Split parts the table in two, the first no higher than height unless a single
// row is. The second has the same head; it has no rows when all fit.
func (t Table) Split(height float64) (first, rest Table) {
	first, rest = t, t
	h := t.headHeight()
	n := 0
	for n < len(t.Rows) {
		h += t.rowHeight(t.cellLines(t.Rows[n]))
		if h > height && n > 0 {
			break
		}
		n++
	}
	first.Rows, rest.Rows = t.Rows[:n:n], t.Rows[n:]
	return first, rest
}

// Table draws the table with its upper left corner at the point and returns
// the height used.
func (s *Scene) Table(at Point, t Table) float64 {
	s.Begin(Group{ID: t.ID, Class: "table"})
	defer s.End()
	w := t.Width()
	ht := t.headTable()
	y := at.Y
	headHigh := t.headHeight()
	s.tableCells(Pt(at.X, y+tableRise/2), ht, ht.head(), ht.cellLines(ht.head()))
	y += headHigh
	for i, r := range t.Rows {
		cells := t.cellLines(r)
		h := t.rowHeight(cells)
		s.Begin(Group{ID: r.ID, Class: "row"})
		if r.Tint != None {
			s.Rect(Rect{at.X, y, w, h}, Filled(r.Tint))
		}
		s.tableCells(Pt(at.X, y), t, r, cells)
		s.End()
		if i > 0 {
			s.Line(Pt(at.X, y), Pt(at.X+w, y), LaneRule.Wide(HairWidth))
		}
		if r.To != "" {
			s.Link(Rect{at.X, y, w, h}, r.To)
		}
		y += h
	}
	s.Line(Pt(at.X, at.Y+headHigh), Pt(at.X+w, at.Y+headHigh), Thin)
	s.Rect(Rect{at.X, at.Y, w, y - at.Y}, Lined(Object))
	return y - at.Y
}

func (s *Scene) tableCells(at Point, t Table, r Row, cells [][]string) {
	x := at.X
	size := t.size()
	for i, c := range t.Columns {
		for j, line := range cells[i] {
			if line == "" {
				continue
			}
			p := Pt(x+tablePad, at.Y+tableRise+size*(float64(j)*lineHeight+lineHeight/2))
			switch c.Align {
			case End:
				p.X = x + c.Width - tablePad
			case Middle:
				p.X = x + c.Width/2
			}
			s.Text(Text{At: p, String: line, Face: t.face(r, i), Size: size, H: c.Align, V: Centre})
		}
		x += c.Width
	}
}
