package extrusion

import "math"

// Head is what of a printer decides its pace.
type Head struct {
	Line, Layer float64 // mm
	Speed       float64 // mm/s
	Accel       float64 // mm/s²
	Flow        float64 // mm³/s at most
}

// Recipe is how a solid is filled. Common practice unless the shop says
// otherwise.
type Recipe struct {
	Walls  int     // lines along the perimeter
	Infill float64 // share of the inside that is filled, 0 to 1
}

// Usual is three lines of wall and a fifth of infill.
var Usual = Recipe{Walls: 3, Infill: 0.2}

// Layer is the area and the perimeter of a section, mm² and mm.
type Layer struct{ Area, Perimeter float64 }

const (
	layerChange = 1.5  // s a layer to lift, travel and start again: common practice
	leastLayer  = 8.0  // s a layer may take at least, so that it sets: common practice
	cornerEvery = 25.0 // mm between corners where the head slows: common practice
)

// PaceMMs is how fast the head moves, mm/s: as set, or as fast as the hot end melts.
func (h Head) PaceMMs() float64 { return min(h.Speed, h.Flow/(h.Line*h.Layer)) }

// Lay is the volume of filament and the time that a layer takes.
func (h Head) Lay(l Layer, r Recipe) (volume, seconds float64) {
	walls := min(l.Area, l.Perimeter*h.Line*float64(r.Walls))
	laid := walls + (l.Area-walls)*r.Infill
	length := laid / h.Line
	pace := h.PaceMMs()
	// A move of length L between stops takes L/v + v/a (trapezoid; two ramps of
	// v/a, half of each at the full pace).
	stops := math.Ceil(length / cornerEvery)
	seconds = length/pace + stops*min(pace/h.Accel, 2*math.Sqrt(cornerEvery/h.Accel))
	return laid * h.Layer, max(leastLayer, seconds) + layerChange
}
