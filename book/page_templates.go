package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
)

const pageTemplates = "templates"

// templates lists the drawings at full size: what each is for and where it goes.
func (b *sheets) templates() {
	all := lane.Templates(b.r, b.o.System)
	if len(all) == 0 {
		return
	}
	_, size := lane.PaperOf(b.r, b.o.System)
	l := b.flowOn(pageTemplates, "Templates")
	l.head("Templates")
	pages := 0
	l.page.scene.Title = b.r.Name + ", templates"
	const file, use, count = 38.0, 44.0, 12.0
	t := drawing.Table{ID: "templates", Size: drawing.SizeSmall, Columns: []drawing.Column{
		{Head: "file", Width: file},
		{Head: "to", Width: use},
		{Head: "where", Width: l.page.body.W - file - use - count},
		{Head: "pages", Width: count, Align: drawing.End},
	}}
	for _, one := range all {
		n := one.Tiling(b.r, b.o.System).Plan(one.Figure).Pages
		pages += n
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{one.Name, one.Use, one.Where, fmt.Sprint(n)}})
	}
	l.text(drawing.SizeText, plain(fmt.Sprintf("Drawings at full size, in the folder templates: PDF for %s paper, %d pages in all, and SVG in one piece. How each is laid stands on its sheet. Print at 100 %%. %s", size, pages, b.barWords())))
	l.table(t)
}

// barWords say what to do with the check bars.
func (b *sheets) barWords() string {
	p := b.r.Design.Shop.Paper
	if p.Short == 0 && p.Long == 0 {
		return "Lay a rule on both check bars: where one is not 100 mm, write what it measures in shop.yaml, under paper (bar_short, bar_long: along the sheet's short and long side), and make again."
	}
	of := func(l float64) string {
		if l == 0 {
			return "100"
		}
		return fmt.Sprintf("%.4g", l)
	}
	return fmt.Sprintf("They are made up for a printer whose bars of 100 mm came out as %s along the short side and %s along the long one: both must now be 100.", of(float64(p.Short)), of(float64(p.Long)))
}

type templateJSON struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Use   string `json:"use"`
	Lay   string `json:"lay"`
	Wide  figure `json:"width_mm"`
	High  figure `json:"height_mm"`
	Pages int    `json:"pages"`
	PDF   string `json:"pdf"`
	SVG   string `json:"svg"`
}

// reportTemplates lists the drawings at full size; none where nothing was made.
func reportTemplates(r job.Result, o Options) []templateJSON {
	if r.Blocked() {
		return []templateJSON{}
	}
	return each(lane.Templates(r, o.System), func(t lane.Template) templateJSON {
		file := "templates/" + t.Name
		return templateJSON{
			t.Name, t.Title, t.Use, t.Lay, figure(t.Figure.Width), figure(t.Figure.Height),
			t.Tiling(r, o.System).Plan(t.Figure).Pages, file + ".pdf", file + ".svg",
		}
	})
}
