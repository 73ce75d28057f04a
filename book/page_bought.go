package book

import (
	"fmt"
	"strings"

	"scalewright/drawing"
	"scalewright/model"
)

// boughtTable lists pins, screws and magnets, what each is for, and what diameter
// its holes are printed at; empty where there are none.
func (b *sheets) boughtTable(width float64) drawing.Table {
	t := drawing.Table{ID: "bought", Columns: []drawing.Column{
		{Head: "buy", Width: 12, Align: drawing.End},
		{Head: "what", Width: 58},
		{Head: "for", Width: 34},
		{Head: "printed holes, mm across", Width: width - 12 - 58 - 34},
	}}
	for _, row := range b.r.Division.Bought() {
		var holes []string
		for _, h := range b.r.Fits.Holes {
			if h.Of == row.Of {
				holes = append(holes, fmt.Sprintf("%s %.2f in %s", h.For, float64(h.Size.Nominal), b.meets(h.Piece)))
			}
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{fmt.Sprint(row.Count), row.String(), b.whatFor(row), strings.Join(holes, "; ")}})
	}
	return t
}

// whatFor names the guest or the panel.
func (b *sheets) whatFor(row model.Bought) string {
	for _, m := range b.r.Design.Mounts {
		if m.ID == row.Of {
			return m.Guest + " on " + m.Host
		}
	}
	return "panel of " + row.Of
}
