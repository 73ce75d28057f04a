package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
)

// Key is the outline of the build with one piece filled in: where it sits.
func Key(r job.Result, i int, width, height float64) *drawing.Scene {
	s := drawing.New(width, height)
	piece := r.Division.Pieces[i]
	s.Title = "Where " + piece.Name + " sits"
	o := r.Design.Outline
	if len(o) == 0 {
		ownKey(s, r, i)
		return s
	}
	low, high := whole(r)
	up, down := beyond(r, o.MaxRadius())
	k := min((width-1)/(high-low), (height-1)/(up+down))
	p := lying(k, drawing.Pt(width-0.5-high*k, height/2+(up-down)/2*k))
	keyOwn(s, p, r, i, false)
	defer keyOwn(s, p, r, i, true)
	for _, sign := range [...]float64{1, -1} {
		s.Path(p.underProfile(o, sign), drawing.Filled(drawing.Shade))
	}
	c := r.Carved[i]
	for _, sign := range [...]float64{1, -1} {
		if piece.Own {
			break // keyOwn fills it
		}
		if piece.ID.Kind == model.Shell {
			clip := o.Between(float64(piece.Span.From), float64(piece.Span.To))
			s.Path(p.underProfile(clip, sign), drawing.Filled(drawing.Ink3))
			continue
		}
		// A thin ring is shown no thinner than can be seen.
		middle := float64(c.Reach.From+c.Reach.To) / 2
		half := max(float64(c.Reach.Length())/2, 0.5/k)
		radius := sign * float64(c.Diameter) / 2
		s.Path(drawing.Polygon(p.at(middle-half, 0), p.at(middle+half, 0), p.at(middle+half, radius), p.at(middle-half, radius)),
			drawing.Filled(drawing.Ink3))
	}
	for _, sign := range [...]float64{1, -1} {
		s.Path(p.line(closed(o), sign), drawing.Lined(drawing.Thin))
	}
	return s
}

// Plan is a piece seen from above as it stands on its platform, at the scale
// 1:n under its half-section; nil where the room is too low, and of what is not
// turned: its own drawing shows that.
func Plan(r job.Result, i int, width, height, n float64) *drawing.Scene {
	c := r.Carved[i]
	if r.Division.Pieces[i].ID.Kind == model.Slice {
		return nil
	}
	radius := float64(c.Diameter) / 2 / n
	if 2*radius+6 > height {
		return nil
	}
	s := drawing.New(width, 2*radius+6)
	s.Title = r.Division.Pieces[i].Name + ", from above"
	centre := drawing.Pt(sectionLeft+(width-sectionLeft-sectionRight)/2, radius+3)
	s.Path(drawing.Circle(centre, radius), drawing.Style{Fill: tint(i), Stroke: drawing.Outline})
	if hole := throat(c) / n; hole > 0.5 {
		s.Path(drawing.Circle(centre, hole), drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Outline})
	}
	arm := radius + 2.5
	s.Line(centre.Sub(drawing.Pt(arm, 0)), centre.Add(drawing.Pt(arm, 0)), drawing.CentreLine)
	s.Line(centre.Sub(drawing.Pt(0, arm)), centre.Add(drawing.Pt(0, arm)), drawing.CentreLine)
	return s
}

// throat is the radius of the way right through a piece; 0 where there is none.
func throat(c model.Carved) float64 {
	least := math.Inf(1)
	for _, loop := range c.Loops {
		for _, q := range loop {
			least = min(least, q.Radius)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}
