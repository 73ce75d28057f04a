package extrusion_test

import (
	"math"
	"testing"

	"scalewright/craft/extrusion"
)

func TestPaceIsFlowOverTheLine(t *testing.T) {
	// Documentation of an open printer firmware's makers: 10 mm³/s with lines of
	// 0.2 x 0.4 is 125 mm/s, with 0.3 x 0.5 is 66.7 mm/s.
	for _, c := range []struct{ layer, line, want float64 }{{0.2, 0.4, 125}, {0.3, 0.5, 66.7}} {
		h := extrusion.Head{Line: c.line, Layer: c.layer, Speed: 1000, Accel: 1000, Flow: 10}
		if got := h.PaceMMs(); math.Abs(got-c.want) > 0.05 {
			t.Errorf("pace at %v x %v = %v, want %v", c.layer, c.line, got, c.want)
		}
	}
}

func TestSolidWallIsLaidWhole(t *testing.T) {
	h := extrusion.Head{Line: 0.6, Layer: 0.3, Speed: 80, Accel: 1500, Flow: 15}
	// A ring 2.4 wide: two perimeters of three lines of 0.6 cover it.
	out, in := 126.0, 123.6
	ring := extrusion.Layer{Area: math.Pi * (out*out - in*in), Perimeter: 2 * math.Pi * (out + in)}
	volume, seconds := h.Lay(ring, extrusion.Usual)
	if want := ring.Area * 0.3; math.Abs(volume-want) > 1e-9 {
		t.Errorf("volume = %v, want %v", volume, want)
	}
	if floor := volume / 15; seconds < floor {
		t.Errorf("%v s is faster than the hot end melts (%v s)", seconds, floor)
	}
}
