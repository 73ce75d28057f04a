package book

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/lane"
	"scalewright/model"
)

const (
	pageInside = "inside"
	pageAcross = "across"
)

// inside shows where components lie and how wires run.
func (b *sheets) inside() {
	if len(b.r.Places.Bays) == 0 {
		return
	}
	p := b.add(pageInside, "Inside", false)
	x, y, w := p.body.X, p.body.Y, p.body.W
	y = p.text(x, y, w, drawing.SizeHead, bold("Inside")) + 2
	y = p.text(x, y, w, drawing.SizeText, plain("The wall rolled out, seen from outside, the far end up. Bays hold the component with a millimetre round it and room for its plugs. Between rooms cables run in one duct half way between core and wall, through a hole in each core ring.")) + 2
	for _, hole := range b.r.Places.CoreHoles() {
		y = p.text(x, y, w, drawing.SizeText, plain(b.drill(hole))) + 2
	}
	t := b.bayTable(w)
	figure, n := lane.Inside(b.r, w, max(60, p.body.Y+p.body.H-y-t.Height()-4), b.o.System)
	if n > 0 {
		p.scale = lane.ScaleText(n)
		p.scene.Place(figure, drawing.Pt(x, y), "inside-")
		y += figure.Height + 3
	}
	p.scene.Table(drawing.Pt(x, y), t)
	b.across()
}

// drill tells of a hole in the core.
func (b *sheets) drill(hole model.Pass) string {
	u := b.o.System
	text := fmt.Sprintf("Where a joint leaves no room beside the core, cables run inside it. Drill it before anything is on it: ⌀ %s, %s from its foot, clocking %.0f° (station %s), and smooth the edges.",
		u.Figure(hole.Across), u.Figure(hole.Station-b.r.Design.Core.Span.From), hole.Clocking*180/math.Pi, u.Figure(hole.Station))
	if s := b.r.Design.Stand; s != nil && hole.Station < b.r.Design.Core.Span.From+s.Engage {
		text += " Whatever centres the post in it below the hole is notched for them."
	}
	return text
}

// across shows the body cut across where the bays lie.
func (b *sheets) across() {
	stations := lane.StationsAcross(b.r)
	widest := 0.0
	for _, z := range stations {
		widest = max(widest, 2*b.r.Design.Outline.RadiusAt(float64(z)))
	}
	const rim, gap = 12.0, 4.0 // round a section, and its caption
	p := b.add(pageAcross, "Inside, across", false)
	side := (p.body.W - gap) / 2
	n := lane.Reduction(max(1, widest/(side-rim)))
	p.scale = lane.ScaleText(n)
	x, y := p.body.X, p.body.Y
	y = p.text(x, y, p.body.W, drawing.SizeHead, bold("Inside, across")) + 2
	y = p.text(x, y, p.body.W, drawing.SizeText, plain("Cut at the stations of the bays, seen from the far end; clocking 0° to the right, 90° up.")) + 2
	top := y
	for i, z := range stations {
		if y+side+rim > p.body.Y+p.body.H && i > 0 {
			p = b.add(fmt.Sprintf("%s-%d", pageAcross, i), "Inside, across", false)
			p.scale, top = lane.ScaleText(n), p.body.Y
			x, y = p.body.X, top
		}
		p.scene.Place(lane.Across(b.r, z, side, n), drawing.Pt(x, y), fmt.Sprintf("across-%d-", i))
		p.text(x, y+side, side, drawing.SizeText, plain("Station "+b.o.System.Figure(z)))
		if x += side + gap; x+side > p.body.X+p.body.W+0.5 {
			x, y = p.body.X, y+side+rim
		}
	}
}

func (b *sheets) bayTable(width float64) drawing.Table {
	u := b.o.System
	t := drawing.Table{ID: "bays", Columns: []drawing.Column{
		{Head: "component", Width: 28},
		{Head: "in", Width: 30},
		{Head: "station", Width: 20, Align: drawing.End},
		{Head: "clocking", Width: 20, Align: drawing.End},
		{Head: "bay", Width: 36, Align: drawing.End},
		{Head: "reached by", Width: width - 134},
	}}
	for _, bay := range b.r.Places.Bays {
		clocking := "round"
		if bay.Wound == 0 {
			turn := math.Mod(math.Atan2(float64(bay.Centre[1]), float64(bay.Centre[0]))*180/math.Pi+360, 360)
			clocking = fmt.Sprintf("%.0f°", turn)
		}
		size := fmt.Sprintf("%s × %s × %s", u.Figure(bay.Size[0]), u.Figure(bay.Size[1]), u.Figure(bay.Size[2]))
		if bay.Wound > 0 {
			size = fmt.Sprintf("⌀ %s, %s high", u.Figure(2*bay.Wound), u.Figure(bay.Size[2]))
		}
		piece, _ := b.r.Division.Piece(bay.Piece)
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			bay.Component, piece.Name, u.Figure(bay.Centre[2]), clocking, size, reachedWords(bay),
		}})
	}
	return t
}

func reachedWords(b model.Bay) string {
	if len(b.Reached) == 0 {
		return "no way once closed"
	}
	return string(finding.Names(b.Reached...))
}

type placesJSON struct {
	Bays []bayJSON `json:"bays"`
	Ways []wayJSON `json:"ways"`
}

type bayJSON struct {
	Component string       `json:"component"`
	Part      string       `json:"part"`
	Piece     string       `json:"piece"`
	Centre    [3]figure    `json:"centre_mm"`
	Axes      [3][3]figure `json:"axes"`
	Size      [3]figure    `json:"size_mm"`
	Wound     figure       `json:"wound_mm,omitempty"` // radius of a strip wound round
	Reached   []string     `json:"reached"`
}

type wayJSON struct {
	Wire   string     `json:"wire"`
	From   string     `json:"from"`
	To     string     `json:"to"`
	Length figure     `json:"length_mm"`
	Passes []passJSON `json:"passes"`
}

type passJSON struct {
	Piece    string `json:"piece"` // or core: a hole through its wall
	Station  figure `json:"station_mm"`
	Clocking figure `json:"clocking_deg"`
	Radius   figure `json:"radius_mm"`
	Across   figure `json:"across_mm"`
}

func reportPlaces(p model.Places) placesJSON {
	return placesJSON{
		Bays: each(p.Bays, func(b model.Bay) bayJSON {
			j := bayJSON{
				Component: b.Component, Part: b.Part, Piece: b.Piece.String(), Wound: figure(b.Wound),
				Reached: append([]string{}, b.Reached...),
			}
			for i := range 3 {
				j.Centre[i], j.Size[i] = figure(b.Centre[i]), figure(b.Size[i])
				for k := range 3 {
					j.Axes[i][k] = figure(b.Axes[i][k])
				}
			}
			return j
		}),
		Ways: each(p.Ways, func(w model.Way) wayJSON {
			return wayJSON{w.Wire, w.From, w.To, figure(w.Length), each(w.Passes, func(q model.Pass) passJSON {
				name := q.Piece.String()
				if q.Core {
					name = "core"
				}
				return passJSON{name, figure(q.Station), figure(q.Clocking * 180 / math.Pi), figure(q.Radius), figure(q.Across)}
			})}
		}),
	}
}
