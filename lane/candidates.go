package lane

import (
	"cmp"
	"fmt"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// Candidates are the sizes weighed, smallest first, side by side on one floor with
// a person: the declared one tinted, those that something stands in the way of with
// a broken outline. The scale comes back as the n of 1:n; 0 where there is nothing
// to draw.
func Candidates(r job.Result, width, height float64, u unit.System) (*drawing.Scene, float64) {
	s := drawing.New(width, height)
	s.Title = "Sizes side by side"
	o := r.Trace.Outline
	if len(o) == 0 || len(r.Sizes) == 0 {
		return s, 0
	}
	all := slices.SortedFunc(slices.Values(r.Sizes), func(a, b model.Candidate) int { return cmp.Compare(a.Ratio, b.Ratio) })
	long, across := o.End()-o.Start(), 2*o.MaxRadius()
	sum := person * personWide
	for _, c := range all {
		sum += across * c.Ratio
	}
	const gap, below, above = 4.0, 10.0, 6.0
	tallest := max(person, long*all[len(all)-1].Ratio)
	n := Reduction(max(tallest/(height-below-above), sum/(width-float64(len(all)+2)*gap)))
	k := 1 / n
	room := (width - sum*k) / float64(len(all)+1)
	s.Height = above + tallest*k + below
	floor := s.Height - below
	for level := metre(u) / 10; level*k < floor; level += metre(u) / 10 {
		s.Line(drawing.Pt(0, floor-level*k), drawing.Pt(width, floor-level*k), drawing.Grid.Wide(drawing.HairWidth))
	}
	x := room / 2
	for i, c := range all {
		half := across * c.Ratio * k / 2
		p := upright(k*c.Ratio, drawing.Pt(x+half, floor+o.Start()*c.Ratio*k), false)
		style := drawing.Lined(drawing.Object)
		if c.Blocked != "" {
			style = drawing.Lined(drawing.Hidden)
		}
		s.Begin(drawing.Group{ID: fmt.Sprintf("size-%d", i+1), Class: "size", Title: ratioText(c.Ratio)})
		for _, sign := range [...]float64{1, -1} {
			if c.Because == "declared" {
				s.Path(p.underProfile(o, sign), drawing.Filled(drawing.TintA))
			}
			s.Path(p.line(closed(o), sign), style)
		}
		s.Text(drawing.Text{At: drawing.Pt(x+half, floor+6), H: drawing.Middle, String: ratioText(c.Ratio), Size: drawing.SizeSmall, Face: drawing.Italic, Colour: drawing.Pencil})
		s.End()
		x += 2*half + room
	}
	silhouette(s, drawing.Pt(x+person*personWide*k/2, floor), person*k)
	s.Text(drawing.Text{At: drawing.Pt(x+person*personWide*k/2, floor+6), H: drawing.Middle, String: u.Figure(person), Size: drawing.SizeSmall})
	ground(s, 0, width, floor)
	return s, n
}

func ratioText(ratio float64) string {
	return fmt.Sprintf("× %.3g", ratio)
}
