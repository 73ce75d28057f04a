package book

import (
	"fmt"
	"time"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/unit"
)

// Ids of pages that links lead to.
const (
	pageVerdict     = "verdict"
	pageArrangement = "arrangement"
	pageParts       = "parts"
	pageAssembly    = "assembly"
	pageCalendar    = "calendar"
	pageNotes       = "notes"
)

// sheet is a page being made. Its title block is drawn when all are counted.
type sheet struct {
	id    string
	name  string // in the title block
	mark  string // in the outline; empty: none
	level int
	scale string
	large bool
	slim  bool // a large sheet with the small sheets' title block
	scene *drawing.Scene
	area  drawing.Rect
	body  drawing.Rect // of the area, what the title block leaves
}

// sheets is a book being made.
type sheets struct {
	r     job.Result
	lanes *lane.Prepared // of r
	o     Options
	pages []*sheet
}

// Room kept between the frame and the contents, mm.
const (
	rim       = 8.0
	rowHeight = 9.5
)

func (b *sheets) add(id, name string, large bool) *sheet {
	format := b.o.Paper.small()
	if large {
		format = b.o.Paper.large()
	}
	p := &sheet{id: id, name: name, mark: name, large: large}
	p.scene, p.area = drawing.NewSheet(format)
	p.scene.Title = b.r.Name + ", " + name
	p.body = p.area.Inset(rim)
	p.body.H -= b.block(p, 0).Height()
	b.pages = append(b.pages, p)
	return p
}

// block is the title block of a page. Fields are those that a sheet needs to be
// known by when it lies alone on a bench.
func (b *sheets) block(p *sheet, number int) drawing.TitleBlock {
	v, u := b.r.Verdict, b.o.System
	in := "mm"
	if u == unit.FeetInches {
		in = "feet, inches"
	}
	build := drawing.Cell{Caption: "Build", Value: b.r.Name, Width: 66, Face: drawing.Bold, Size: drawing.SizeHead}
	name := drawing.Cell{Caption: "Sheet name", Value: p.name, Width: 70}
	scale := drawing.Cell{Caption: "Scale", Value: p.scale, Width: 20}
	lengths := drawing.Cell{Caption: "Lengths in", Value: in, Width: 24}
	rev := drawing.Cell{Caption: "Rev, drawn", Value: fmt.Sprintf("%d, %s", b.r.Revision, b.o.Date.Format("2 Jan 2006")), Width: 34}
	sheetNo := drawing.Cell{Caption: "Sheet", Value: fmt.Sprintf("%d of %d", number, len(b.pages)), Width: 46, Face: drawing.Bold, Projection: true}
	reference := drawing.Cell{
		Caption: "Reference", Value: u.Tenth(unit.Length(b.r.Enlarge.Reference.X)), Width: 34, Owner: drawing.Reference,
	}
	if b.r.Enlarge.Reference.X == 0 {
		reference.Value = "not read"
	}
	ratio := drawing.Cell{Caption: "Enlargement", Value: fmt.Sprintf("× %.4g", b.r.Enlarge.Ratio), Width: 28, Owner: drawing.Reference}
	overall := drawing.Cell{Caption: "Overall", Value: u.Whole(unit.Length(v.Overall.X)), Width: 38, Face: drawing.Bold}
	if !p.large || p.slim {
		return drawing.TitleBlock{Width: p.area.W, Rows: []drawing.TitleRow{
			{Height: rowHeight, Cells: []drawing.Cell{build, name, scale, lengths}},
			{Height: rowHeight, Cells: []drawing.Cell{reference, ratio, overall, rev, sheetNo}},
		}}
	}
	across := drawing.Cell{Caption: acrossWhat(b.r), Value: u.Whole(v.Across), Width: 40, Owner: drawing.Reference}
	core := drawing.Cell{Caption: "Core", Value: "none", Width: 60}
	if c := b.r.Design.Core; c != nil {
		core.Value = c.Stock.Name
	}
	found := drawing.Cell{Caption: "Findings", Value: foundWords(b.r), Width: 60}
	weight := drawing.Cell{Caption: "Mass of the prints", Value: mass(v.Grams), Width: 34}
	finish := drawing.Cell{Caption: "Likely done", Value: "no plan", Width: 42}
	if v.Likely != "" {
		finish.Value = day(v.Likely)
	}
	return drawing.TitleBlock{Rows: []drawing.TitleRow{
		{Height: rowHeight, Cells: []drawing.Cell{reference, ratio, across, core}},
		{Height: rowHeight, Cells: []drawing.Cell{found, weight, finish, lengths}},
		{Height: rowHeight + 1.5, Cells: []drawing.Cell{build, overall, scale}},
		{Height: rowHeight + 1.5, Cells: []drawing.Cell{name, rev, sheetNo}},
	}}
}

// finish draws the title blocks and gives the pages with their bookmarks.
func (b *sheets) finish() []drawing.Page {
	var out []drawing.Page
	for i, p := range b.pages {
		p.scene.TitleBlock(p.area, b.block(p, i+1))
		page := drawing.Page{ID: p.id, Scene: p.scene}
		if p.mark != "" {
			page.Bookmarks = []drawing.Bookmark{{Title: p.mark, Level: p.level}}
		}
		out = append(out, page)
	}
	return out
}

// text sets a paragraph and returns the y below it.
func (p *sheet) text(x, y, width, size float64, spans ...drawing.Span) float64 {
	return y + p.scene.Paragraph(drawing.Paragraph{At: drawing.Pt(x, y), Width: width, Size: size, Spans: spans})
}

func plain(s string) drawing.Span { return drawing.Span{Text: s} }
func bold(s string) drawing.Span  { return drawing.Span{Text: s, Face: drawing.Bold} }
func faint(s string) drawing.Span { return drawing.Span{Text: s, Colour: drawing.Ink3} }

// date is a day of the plan, as the calendar writes it.
func (b *sheets) date(m unit.Minutes) time.Time {
	start, err := time.Parse(time.DateOnly, b.r.Calendar.Start)
	if err != nil {
		panic("book: internal error: start date " + b.r.Calendar.Start)
	}
	return start.Add(time.Duration(m) * time.Minute)
}

// whole is the view of the whole build at a scale 1:n.
func (b *sheets) whole(n float64) lane.View {
	span := lane.Whole(b.r)
	return lane.View{Span: span, Width: lane.WidthAt(span, 1/n), System: b.o.System}
}
