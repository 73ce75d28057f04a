package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// mark is something with a clocking of its own.
type mark struct {
	name  string
	angle float64
}

// clocked are the parts and openings near a seam that say which way round its
// pieces go.
func clocked(r job.Result, station unit.Length) []mark {
	var out []mark
	for _, p := range r.Design.Parts {
		if p.Form == model.Flat && p.Plate.Lie == model.Along && p.Span.Holds(station) {
			out = append(out, mark{p.ID, p.Axis.Clocking})
		}
	}
	for _, o := range r.Design.Openings {
		if math.Abs(float64(o.Station-station)) < nearSeam {
			out = append(out, mark{o.ID, o.Clocking})
		}
	}
	return out
}

// nearSeam is how near an opening's middle lies to a seam that its strip names
// it, mm.
const nearSeam = 200.0

// turnShare is an angle as a share of a turn, from 0 to less than 1.
func turnShare(angle float64) float64 {
	share := math.Mod(angle/(2*math.Pi), 1)
	if share < 0 {
		share++
	}
	return share
}

// rolledOut is an opening's rim on the rolled out surface of a cylinder, about
// its middle, and its extent. A hole of radius ρ through the axis leaves the rim
// x = R·asin(ρ·sin t / R), y = ρ·cos t.
func rolledOut(o model.Opening, radius float64) (rim []drawing.Point, wide, high float64) {
	if o.Across == 0 {
		w, h := float64(o.Wide), float64(o.High)
		return []drawing.Point{{X: -w / 2, Y: -h / 2}, {X: w / 2, Y: -h / 2}, {X: w / 2, Y: h / 2}, {X: -w / 2, Y: h / 2}}, w, h
	}
	hole := min(float64(o.Across)/2, radius)
	const corners = 180
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		x := radius * math.Asin(hole*sin/radius)
		rim = append(rim, drawing.Pt(x, hole*cos))
		wide = max(wide, 2*x)
	}
	return rim, wide, 2 * hole
}
