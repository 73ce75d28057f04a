package book

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/lane"
	"scalewright/model"
)

const pageInside = "inside"

// inside shows where components lie and how wires run.
func (b *sheets) inside() {
	if len(b.r.Places.Bays) == 0 {
		return
	}
	p := b.add(pageInside, "Inside", false)
	x, y, w := p.body.X, p.body.Y, p.body.W
	y = p.text(x, y, w, drawing.SizeHead, bold("Inside")) + 2
	y = p.text(x, y, w, drawing.SizeText, plain("The wall rolled out, seen from outside, the far end up. Bays hold the component with a millimetre round it and room for its plugs. Cables run in one duct half way between core and wall, through a hole in each core ring.")) + 2
	t := b.bayTable(w)
	figure, n := lane.Inside(b.r, w, max(60, p.body.Y+p.body.H-y-t.Height()-4), b.o.System)
	if n > 0 {
		p.scale = lane.ScaleText(n)
		p.scene.Place(figure, drawing.Pt(x, y), "inside-")
		y += figure.Height + 3
	}
	p.scene.Table(drawing.Pt(x, y), t)
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
