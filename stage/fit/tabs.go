package fit

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// Common practice, mm.
const (
	leastSlot  = 0.20 // a tongue in its slot: room for the film of glue on both sides
	leastPanel = 0.60 // a panel that comes off by hand, across both gaps
)

// tab sizes the slot for a tongue. The guest lies flat in print, so its thickness
// is whole layers: anywhere within half a layer alike (JCGM 100:2008, 4.3.7).
func (w work) tab(t model.Tab) model.Fit {
	layer := float64(w.printerOf(t.Guest).Layer)
	male := model.Size{Nominal: t.Thick, Actual: unit.Estimate(float64(t.Thick), layer/2/math.Sqrt(3))}
	play := w.offset(t.Host, float64(t.Thick), true).Sub(male.Actual)
	asked := math.Ceil((leastSlot+spare*play.U-play.X)*100) / 100
	f := finish(model.Fit{Male: t.Guest.String(), Female: t.Host.String(), MaleSize: male, Bore: w.side(t.Host, asked, true)}, MostLoose)
	f.Seam, f.Station = t.ID, (t.Span.From+t.Span.To)/2
	f.Depth = t.Top - t.Tip
	return f
}

// panel sizes a panel to its opening, across its width; its height has the same
// gap.
func (w work) panel(v model.Window) model.Fit {
	f := w.pair(v.Panel, v.Piece, float64(v.Opening.Wide), leastPanel)
	f = finish(f, MostLoose+leastPanel)
	part, _ := w.partOf(v.Piece)
	f.Seam, f.Station, f.Depth = v.Opening.ID, v.Opening.Station, part.Wall
	return f
}
