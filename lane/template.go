package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// Template is a drawing at full size, to be laid on the work or wrapped round it.
type Template struct {
	Name   string // of its file, without an end
	Title  string
	Use    string         // what it is for
	Where  string         // it goes, in short
	Lay    string         // how it is laid there
	Figure *drawing.Scene // the drawing alone
	Scene  *drawing.Scene // with its title and check bars, whole
}

// Templates are all templates of a build, in the order of the work: pipe, flat
// pieces, openings, what sits on the body, seams, masks, the stand.
func Templates(r job.Result, u unit.System) []Template {
	t := templates{r: r, u: u, paper: thickness(r)}
	t.core()
	t.flat()
	t.openings()
	t.tongues()
	t.saddles()
	t.liners()
	t.seams()
	t.masks()
	t.covers()
	t.stand()
	return t.out
}

// templates are those of a build, being drawn.
type templates struct {
	r     job.Result
	u     unit.System
	paper float64 // thickness
	out   []Template
}

// officePaper is how thick a sheet of 80 g/m² is, mm: common practice.
const officePaper = 0.1

func thickness(r job.Result) float64 {
	if t := r.Design.Shop.Paper.Thick; t > 0 {
		return float64(t)
	}
	return officePaper
}

// PaperOf is the paper that templates are tiled on, and its name: as the shop says,
// else letter for those who read feet and inches.
func PaperOf(r job.Result, u unit.System) (drawing.Format, model.PaperSize) {
	size := r.Design.Shop.Paper.Size
	if size == "" && u == unit.FeetInches {
		size = model.PaperLetter
	}
	if size == model.PaperLetter {
		return drawing.Letter, size
	}
	return drawing.A4Portrait, model.PaperA4
}

// Tiling is how a template is put on the build's paper.
func (t Template) Tiling(r job.Result, u unit.System) drawing.Tiling {
	sheet, _ := PaperOf(r, u)
	p := r.Design.Shop.Paper
	return drawing.Tiling{
		Sheet: sheet, Short: float64(p.Short), Long: float64(p.Long), Title: r.Name + ": " + t.Title, Note: t.Lay,
		Key: "Cut along heavy lines; dashed ones bound laps, chain lines are middles.",
	}
}

// Pages is the template tiled.
func (t Template) Pages(r job.Result, u unit.System) []*drawing.Scene {
	return t.Tiling(r, u).Pages(t.Figure)
}

// Room round a template that is drawn whole, mm.
const (
	templateRim  = 10.0
	templateFoot = 24.0
)

// add keeps a template, drawn whole with its title and check bars.
func (t *templates) add(one Template) {
	const bar = 12.0
	f := one.Figure
	width := max(f.Width, drawing.Measure(one.Title, drawing.Bold, drawing.SizeBody), 140) + bar
	high := max(f.Height, 106)
	s := drawing.New(width+2*templateRim, high+2*templateRim+templateFoot)
	s.Title, s.Desc = one.Title, one.Use+"; "+one.Lay
	s.Place(f, drawing.Pt(templateRim+bar, templateRim), "")
	foot := templateRim + high
	s.CheckBars(drawing.Pt(templateRim+bar, foot+6), drawing.Pt(templateRim+2, foot-2))
	s.Text(drawing.Text{At: drawing.Pt(templateRim+bar, foot+17), String: one.Title, Face: drawing.Bold, Size: drawing.SizeBody})
	s.Paragraph(drawing.Paragraph{At: drawing.Pt(templateRim+bar, foot+18), Width: width - bar, Size: drawing.SizeSmall, Spans: drawing.Plainly(one.Lay + ".")})
	one.Scene = s
	t.out = append(t.out, one)
}

// degrees is a clocking as it is lettered, to a hundredth: 0 to less than 360.
func degrees(angle float64) string {
	return fmt.Sprintf("%g°", math.Mod(math.Round(36000*turnShare(angle)), 36000)/100)
}

// offWords say how far paper stands off a body that does not unroll.
func offWords(off float64) string {
	if off < leastOff {
		return ""
	}
	return fmt.Sprintf("; the body is curved there, and the paper stands off up to %.1f mm", off)
}

// leastOff is what nobody sees under a pencil, mm: common practice.
const leastOff = 0.3
