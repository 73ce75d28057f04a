package extrusion_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/extrusion"
)

func ExampleHead_Lay() {
	h := extrusion.Head{Line: 0.4, Layer: 0.2, Speed: 80, Accel: 1500, Flow: 11}
	square := extrusion.Layer{Area: 50 * 50, Perimeter: 200} // three lines round it and a fifth of the inside
	volume, seconds := h.Lay(square, extrusion.Usual)
	fmt.Printf("%.1f mm³ in %.0f s\n", volume, seconds)
	// Output: 138.4 mm³ in 27 s
}

// Nothing is laid faster than the head moves or the hot end melts, more wall or
// infill lays more, and never more than the layer is full.
func TestLayLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := extrusion.Head{
			Line: rapid.Float64Range(0.2, 1).Draw(t, "line"), Layer: rapid.Float64Range(0.05, 0.6).Draw(t, "layer"),
			Speed: rapid.Float64Range(10, 300).Draw(t, "speed"), Accel: rapid.Float64Range(200, 20000).Draw(t, "accel"),
			Flow: rapid.Float64Range(2, 40).Draw(t, "flow"),
		}
		l := extrusion.Layer{Area: rapid.Float64Range(0, 1e5).Draw(t, "area"), Perimeter: rapid.Float64Range(0, 5e3).Draw(t, "perimeter")}
		r := extrusion.Recipe{Walls: rapid.IntRange(0, 6).Draw(t, "walls"), Infill: rapid.Float64Range(0, 1).Draw(t, "infill")}
		volume, seconds := h.Lay(l, r)
		if full := l.Area * h.Layer; volume < 0 || volume > full*(1+1e-12) {
			t.Errorf("laid %v of %v mm³", volume, full)
		}
		if floor := volume / min(h.Flow, h.Speed*h.Line*h.Layer); seconds < floor || seconds < 8 {
			t.Errorf("%v s, want %v at least", seconds, floor)
		}
		r.Walls++
		if more, _ := h.Lay(l, r); more < volume*(1-1e-12) {
			t.Errorf("a wall more lays %v, %v without", more, volume)
		}
	})
}

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
