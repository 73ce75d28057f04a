package lane

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/unit"
)

// flatElevation is the elevation of a build without a body: every piece as it is
// seen from the side, by station.
func flatElevation(r job.Result, v View, items bool) *drawing.Scene {
	low, high := whole(r)
	k := v.Scale()
	if low >= high || k == 0 {
		return empty(v, "Elevation", "Nothing to draw yet: no piece is made.")
	}
	if v.Folded {
		return folded(v, "Elevation", fmt.Sprintf("%s long", v.System.Whole(unit.Length(high-low))))
	}
	up, down := sides(r)
	below := belowBody
	if items {
		below = itemRow + ballRadius + 1
	}
	s := drawing.New(v.Width, bodyTop+(up-down)*k+below)
	s.Title, s.Desc = "Elevation", "Seen from the side. "+r.Name
	p := lying(k, drawing.Pt(v.X(0), bodyTop+up*k))
	pictures(s, r, p.side)
	s.Dimension(drawing.Dimension{
		ID: "overall", From: p.at(low, up), To: p.at(high, up), At: overallRow,
		Text: v.System.Figure(unit.Length(high - low)), Title: "overall length",
	})
	if items {
		balls(s, p, r, bodyTop+(up-down)*k+itemRow, v.Width)
	}
	return s
}

// sides are the largest and least distance above the axis in the side view.
func sides(r job.Result) (up, down float64) {
	for n, i := range owns(r) {
		b := r.Carved[i].Solid.Bounds()
		if n == 0 {
			up, down = b.Max[0], b.Min[0]
		}
		up, down = max(up, b.Max[0]), min(down, b.Min[0])
	}
	return up, down
}
