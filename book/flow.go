package book

import (
	"slices"

	"scalewright/drawing"
)

// flow sets words and tables down a page, and on to the next where it is full.
type flow struct {
	b     *sheets
	page  *sheet
	y     float64
	id    string
	name  string
	count int
	keep  float64 // kept free at the foot of each sheet
}

// note sets words a little smaller and fainter.
func (f *flow) note(words string) { f.text(drawing.SizeSmall, faint(words)) }

// flowOn begins a run of small sheets.
func (b *sheets) flowOn(id, name string) *flow {
	f := &flow{b: b, id: id, name: name}
	f.next()
	return f
}

func (f *flow) next() {
	id := f.id
	if f.count > 0 {
		id = "" // links lead to the first page of a run
	}
	f.page = f.b.add(id, f.name, false)
	if f.count > 0 {
		f.page.mark = ""
	}
	f.count++
	f.y = f.page.body.Y
}

func (f *flow) left() float64 { return f.page.body.Y + f.page.body.H - f.keep - f.y }

// need begins a new sheet unless there is so much room.
func (f *flow) need(height float64) {
	if f.left() < height && f.y > f.page.body.Y {
		f.next()
	}
}

func (f *flow) head(text string) {
	f.need(24)
	f.y = f.page.text(f.page.body.X, f.y, f.page.body.W, drawing.SizeHead, bold(text)) + 2
}

func (f *flow) text(size float64, spans ...drawing.Span) {
	p := drawing.Paragraph{Width: f.page.body.W, Size: size, Spans: spans}
	f.need(p.Height())
	p.At = drawing.Pt(f.page.body.X, f.y)
	f.y += f.page.scene.Paragraph(p) + 1.5
}

// table sets a table, split over as many sheets as it needs. Where the sheet is
// narrower, the widest column gives way.
func (f *flow) table(t drawing.Table) {
	t = narrowed(t, f.page.body.W)
	for len(t.Rows) > 0 {
		first, rest := t.Split(f.left())
		if f.y > f.page.body.Y && first.Height() > f.left() {
			f.next()
			continue
		}
		f.page.scene.Table(drawing.Pt(f.page.body.X, f.y), first)
		f.y += first.Height() + 4
		t = rest
		if len(t.Rows) > 0 {
			f.next()
		}
	}
}

func narrowed(t drawing.Table, width float64) drawing.Table {
	if over := t.Width() - width; over > 0 {
		t.Columns = slices.Clone(t.Columns)
		widest := 0
		for i, c := range t.Columns {
			if c.Width > t.Columns[widest].Width {
				widest = i
			}
		}
		t.Columns[widest].Width -= over
	}
	return t
}
