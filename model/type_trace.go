package model

import (
	"math"
	"slices"

	"scalewright/unit"
)

// TracePoint is one station of a measured profile.
type TracePoint struct {
	Station float64    // mm of the reference
	Radius  unit.Value // mm of the reference, with its shared sources
}

// Hidden is a stretch of the reference that the view does not show.
type Hidden struct {
	From, To float64 // stations, mm of the reference
	Because  string  // "fins"
}

// Trace is what measuring knows of a turned reference: its profile with doubt,
// the outline drawn through it, and where the profile was typed because the
// view does not show it. All in mm of the reference.
type Trace struct {
	Outline Outline
	Profile []TracePoint
	Length  unit.Value
	Typed   []Hidden
}

// Neighbours on each side that a station's doubt is weighed with: the outline is
// drawn through them all, so one reading in doubt among good ones moves nothing.
const doubtNeighbours = 2

// WorstDoubt is the station whose surface is most in doubt, and by how much: the
// median over its neighbours.
func (t Trace) WorstDoubt() (station, u float64) {
	square := make([]float64, len(t.Profile))
	for i := range square {
		square[i] = t.squareDoubt(i)
	}
	for i, p := range t.Profile {
		near := slices.Sorted(slices.Values(square[max(0, i-doubtNeighbours):min(len(square), i+doubtNeighbours+1)]))
		if d := near[len(near)/2]; d > u {
			station, u = p.Station, d
		}
	}
	return station, u
}

// squareDoubt is a station's doubt square to the surface: on a slope, most of a
// radius' doubt only moves the surface along itself.
func (t Trace) squareDoubt(i int) float64 {
	before, after := t.Profile[max(0, i-1)], t.Profile[min(len(t.Profile)-1, i+1)]
	run := math.Hypot(after.Station-before.Station, after.Radius.X-before.Radius.X)
	if run == 0 {
		return t.Profile[i].Radius.U
	}
	return t.Profile[i].Radius.U * (after.Station - before.Station) / run
}

// Mark is a place on the mat seen in a photograph: pixels of the upright
// image, and mm on the mat.
type Mark struct {
	Pixel [2]float64
	Mat   [2]float64
}

// Marks are the marks of one photograph and the pitch of its mat.
type Marks struct {
	PitchMM float64
	Marks   []Mark
}
