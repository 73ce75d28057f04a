package lane

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scalewright/drawing"
	"scalewright/unit"
)

const (
	zoneHigh = 5.6
	coatStep = 1.5
)

// coatCount is a coating and how often it goes on.
type coatCount struct {
	id    string
	times int
}

// coats are the coatings in their order, with the times each covers what is seen.
func (p *Prepared) coats() []coatCount {
	seen := p.seenArea() / 1e6
	var out []coatCount
	for _, n := range p.Finishing.Needs {
		if n.Grit > 0 {
			continue // sandpaper stays on nothing
		}
		times := 1
		if seen > 0 && finite(n.Area) {
			times = max(1, min(20, int(math.Round(n.Area/seen))))
		}
		out = append(out, coatCount{n.Coating, times})
	}
	return out
}

// seenArea is the finished surface, mm².
func (p *Prepared) seenArea() float64 {
	sum := 0.0
	for _, s := range p.Finishing.Surfaces {
		sum += s.Area
	}
	return sum
}

// Finish is the zones that are finished, with their areas, and under each its
// coats as so many lines: filler and primer under colour under clear.
func Finish(p *Prepared, v View) *drawing.Scene {
	const title = "Finish"
	switch {
	case len(p.Finishing.Surfaces) == 0:
		return empty(v, title, "Nothing is finished: say under finish how it is to look.")
	case v.Folded:
		return folded(v, title, saysFinish(p, v.System), readFinish(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	coats := p.coats()
	lines := 0
	for _, c := range coats {
		lines += c.times
	}
	body, off := p.zones(v)
	height := 2 + zoneHigh + 1.5
	if len(off) > 0 {
		height += zoneHigh + 1.5
	}
	s := v.paper(height + coatStep*float64(lines) + 6)
	s.Title, s.Desc = title, saysFinish(p, v.System).Says
	p.underlay(s, v)
	y := 2.0
	for k, z := range body {
		z.draw(s, v, y, tint(k))
	}
	y += zoneHigh + 1.5
	if len(off) > 0 {
		p.offZones(s, v, off, y)
		y += zoneHigh + 1.5
	}
	p.coatLines(s, v, body, coats, y)
	hang(s, v)
	return s
}

// zone is a finished surface and where it lies.
type zone struct {
	id, name string
	from, to float64
	area     float64 // mm²
	depth    unit.Length
}

// zones are the surfaces in view: of the body, and of what has its own line,
// copies together.
func (p *Prepared) zones(v View) (body, off []zone) {
	together := map[string]int{}
	for _, s := range p.Finishing.Surfaces {
		i, ok := p.byID[s.Piece.String()]
		if !ok || !finite(s.Area) || !v.touches(float64(p.stretch[i].From), float64(p.stretch[i].To)) {
			continue
		}
		piece := p.Division.Pieces[i]
		z := zone{s.Piece.String(), piece.Name, float64(p.stretch[i].From), float64(p.stretch[i].To), s.Area, s.Depth}
		if p.isShell(i) {
			body = append(body, z)
			continue
		}
		name := piece.Name
		for _, part := range p.Design.Parts {
			if part.ID == piece.ID.Part && part.Declared != "" {
				name = part.Declared
			}
		}
		if k, ok := together[name]; ok {
			off[k].area += z.area
			off[k].from, off[k].to = min(off[k].from, z.from), max(off[k].to, z.to)
			off[k].depth = max(off[k].depth, z.depth)
			continue
		}
		z.name = name
		together[name] = len(off)
		off = append(off, z)
	}
	return body, off
}

func (p *Prepared) isShell(i int) bool {
	return slices.Contains(p.shells, i)
}

func (z zone) square() string { return fmt.Sprintf("%.1f dm²", z.area/1e4) }

func (z zone) says() string {
	return fmt.Sprintf("%s: %s, rough to %.0f µm", z.name, z.square(), float64(z.depth)*1000)
}

func (z zone) draw(s *drawing.Scene, v View, y float64, fill drawing.Colour) {
	a, b := max(edge, v.X(unit.Length(z.from))), min(s.Width-edge, v.X(unit.Length(z.to)))
	z.box(s, a+0.2, y, max(b-a-0.4, 0.2), fill)
}

func (z zone) box(s *drawing.Scene, x, y, wide float64, fill drawing.Colour) {
	begin(s, "zone-"+z.id, "zone", z.says(), z.from, z.to)
	defer s.End()
	s.Rect(drawing.Rect{X: x, Y: y, W: wide, H: zoneHigh}, drawing.Style{Fill: fill, Stroke: drawing.Thin})
	for _, words := range [...]string{z.name + "  " + z.square(), z.square(), z.name} {
		if drawing.Measure(words, drawing.Regular, drawing.SizeSmall) <= wide-1.6 {
			s.Text(drawing.Text{At: drawing.Pt(x+wide/2, y+zoneHigh/2), H: drawing.Middle, V: drawing.Centre, String: words, Size: drawing.SizeSmall})
			return
		}
	}
}

// offZones stand as near to their stations as they can without overlap.
func (p *Prepared) offZones(s *drawing.Scene, v View, off []zone, y float64) {
	room := s.Width - 2*edge
	wide := make([]float64, 0, len(off))
	total := 0.0
	var list []zone
	for _, i := range order(off, func(k int) float64 { return off[k].from + off[k].to }) {
		w := min(room, drawing.Measure(off[i].name+"  "+off[i].square(), drawing.Regular, drawing.SizeSmall)+2)
		if total+w+boxGap > room {
			continue // the table has it
		}
		total += w + boxGap
		list, wide = append(list, off[i]), append(wide, w)
	}
	if len(list) == 0 {
		return
	}
	xs, gaps := make([]float64, len(list)), make([]float64, len(list)-1)
	for k, z := range list {
		xs[k] = v.X(unit.Length(z.from+z.to)/2) - wide[k]/2
		if k < len(gaps) {
			gaps[k] = wide[k] + boxGap
		}
	}
	spreadBy(xs, gaps, edge, edge+room-wide[len(wide)-1])
	for k, z := range list {
		z.box(s, xs[k], y, wide[k], drawing.Field)
	}
}

// coatLines are the coats as lines, the first lowest, with their names at the
// right end.
func (p *Prepared) coatLines(s *drawing.Scene, v View, body []zone, coats []coatCount, y float64) {
	lines := 0
	for _, c := range coats {
		lines += c.times
	}
	bottom := y + coatStep*float64(lines)
	names := make([]string, 0, len(coats))
	n := 0
	for _, c := range coats {
		st := drawing.Fine
		switch c.id {
		case "colour":
			st = drawing.Object.Wide(drawing.OutlineWidth)
		case "clear":
			st = drawing.Thin.In(drawing.Ink3)
		case "putty":
			st = drawing.Hidden.Wide(drawing.FineWidth)
		}
		from, to := v.seen()
		begin(s, "coat-"+c.id, "coat", fmt.Sprintf("%s, %s", c.id, timesWord(c.times)), from, to)
		for range c.times {
			n++
			at := bottom - coatStep*(float64(n)-0.5)
			for _, z := range body {
				a, b := max(edge, v.X(unit.Length(z.from))), min(s.Width-edge, v.X(unit.Length(z.to)))
				if b > a+0.8 {
					s.Line(drawing.Pt(a+0.4, at), drawing.Pt(b-0.4, at), st)
				}
			}
		}
		s.End()
		names = append(names, fmt.Sprintf("%s %d", c.id, c.times))
	}
	words := "from below: " + strings.Join(names, ", ")
	s.Text(drawing.Text{
		At: drawing.Pt(Pad, bottom+3.4), String: drawing.Shorten(words, drawing.Regular, drawing.SizeCaption, s.Width-2*Pad), Size: drawing.SizeCaption, Colour: drawing.Ink2,
	})
}

func timesWord(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

func saysFinish(p *Prepared, _ unit.System) Summary {
	if len(p.Finishing.Surfaces) == 0 {
		return Summary{Says: "as printed"}
	}
	out := Summary{Says: fmt.Sprintf("%.2f m²", p.seenArea()/1e6)}
	for _, c := range p.coats() {
		out.Says += fmt.Sprintf(", %s %d", c.id, c.times)
	}
	if n := len(p.Finishing.Masks); n == 1 {
		out.Remark = "one place stays bare"
	} else if n > 1 {
		out.Remark = fmt.Sprintf("%d places stay bare", n)
	}
	return out
}

func readFinish(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok || len(p.Finishing.Surfaces) == 0 {
		return Reading{}
	}
	body, off := p.zones(v)
	for _, list := range [...][]zone{body, off} {
		for _, z := range list {
			if at >= z.from && at <= z.to {
				return Reading{Here: z.says()}
			}
		}
	}
	return Reading{Here: "nothing finished here"}
}

// FinishTable lists the zones by station, then the coats.
func FinishTable(p *Prepared, u unit.System) Table {
	t := table("Finish: "+saysFinish(p, u).Says, "zone or coat", "#from", "#to", "#seen, dm²", "#rough to, µm")
	for _, s := range p.Finishing.Surfaces {
		i, ok := p.byID[s.Piece.String()]
		if !ok {
			continue
		}
		t.row(p.Division.Pieces[i].Name, u.Whole(p.stretch[i].From), u.Whole(p.stretch[i].To), fmt.Sprintf("%.1f", s.Area/1e4), fmt.Sprintf("%.0f", float64(s.Depth)*1000))
	}
	for _, c := range p.coats() {
		t.row(c.id+", "+timesWord(c.times), "–", "–", "–", "–")
	}
	return t
}
