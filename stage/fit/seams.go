package fit

import (
	"math"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// seam sizes a spigot in its socket, or a collar in both of its sockets.
func (w work) seam(s model.Seam) []model.Fit {
	at, depth := float64(s.Station), float64(s.Engage)
	step := w.step(s)
	var fits []model.Fit
	switch s.Male() {
	case stock.MaleBelow:
		bore := 2 * w.cavity(s.Above, at, at+depth+w.rideOn(s))
		fits = []model.Fit{w.sized(s.ID, s.Below, s.Above, bore, leastGlued)}
	case stock.MaleAbove:
		bore := 2 * w.cavity(s.Below, at-depth-w.rideOn(s), at)
		fits = []model.Fit{w.sized(s.ID, s.Above, s.Below, bore, leastGlued)}
	case stock.MaleOwn:
		// One collar for both sides: each socket as wide as the narrower allows.
		bore := 2 * min(w.cavity(s.Below, at-depth, at), w.cavity(s.Above, at, at+depth+w.rideOn(s)))
		// Where one socket is made the other follows it, so that one collar serves both.
		for _, side := range [...]model.PieceID{s.Below, s.Above} {
			if made, ok := w.kept(side).Outside[s.ID]; ok {
				bore = float64(made)
				break
			}
		}
		ring := model.PieceID{Kind: model.CollarRing, Part: s.Above.Part, From: s.Above.From}
		lower, upper := w.sized(s.ID, ring, s.Below, bore, leastGlued), w.sized(s.ID, ring, s.Above, bore, leastGlued)
		asked := math.Min(float64(lower.MaleSize.Nominal), float64(upper.MaleSize.Nominal))
		lower.MaleSize = w.side(ring, asked, false)
		upper.MaleSize = lower.MaleSize
		fits = []model.Fit{finish(lower, MostLoose), finish(upper, MostLoose)}
	}
	for i := range fits {
		fits[i].Seam, fits[i].Station, fits[i].Depth, fits[i].Step = s.ID, s.Station, s.Engage, step
	}
	return fits
}

// rideOn is how much further a socket must reach for a core ring at the end of the
// spigot.
func (w work) rideOn(s model.Seam) float64 {
	for _, seat := range w.Division.Seats {
		if s.Rests(seat) {
			return float64(seat.Span.Length()) + float64(model.EndGap)
		}
	}
	return float64(model.EndGap)
}

// step is the lip between the outer faces at a seam, on the radius.
func (w work) step(s model.Seam) unit.Value {
	_, raw := w.partOf(s.Above)
	across := 2 * model.LowestBetween(raw.Outer, float64(s.Station), float64(s.Station))
	return w.offset(s.Above, across, false).Sub(w.offset(s.Below, across, false)).Scale(0.5)
}
