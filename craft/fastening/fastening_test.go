package fastening_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/fastening"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

func ExampleScrew() {
	f := stock.FastenersFor(stock.Screw)[1] // M3
	d, ok := fastening.Screw(f, 6)
	fmt.Println(unit.Metric.Whole(d.Long), unit.Metric.Tenth(d.InGuest), unit.Metric.Tenth(d.InHost), ok)
	// Output: 12 mm 5.9 mm 6.6 mm true
}

// A screw is as long as its depths say, holds a diameter and a half of thread, and
// leaves its least under the head, whatever the guest's height.
func TestScrewAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(stock.FastenersFor(stock.Screw)).Draw(t, "screw")
		high := unit.Length(rapid.Float64Range(0, 200).Draw(t, "high"))
		d, ok := fastening.Screw(f, high)
		if math.Abs(float64(d.InGuest+d.InHost-fastening.Spare-d.Long)) > 1e-9 {
			t.Fatalf("%+v", d)
		}
		if !ok {
			return
		}
		if thread := d.Long - d.InGuest; thread < 1.5*f.Across-1e-9 || d.InGuest-f.Cone() < fastening.UnderHead-1e-9 || d.InGuest > high || high-d.InGuest > fastening.Deepest {
			t.Fatalf("%s through %v: %+v", f.ID, high, d)
		}
	})
}

// A disc square to the radius lies under a cylinder by its sagitta: R - √(R² - a²/4).
func TestUnderACylinder(t *testing.T) {
	line := []model.Point{{Station: 0, Radius: 126}, {Station: 100, Radius: 126}}
	if got, want := fastening.Under(line, 50, 6.3), math.Sqrt(126*126-6.3*6.3/4); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if got := fastening.Under(nil, 50, 6.3); got != 0 {
		t.Errorf("under nothing: %v", got)
	}
}

// Half of a pin lies in each piece, and a magnet's face under both faces wherever
// the host's surface lies.
func TestPinsAndMagnets(t *testing.T) {
	for _, f := range stock.FastenersFor(stock.Pin) {
		d, ok := fastening.Pin(f)
		if !ok || d.InGuest != d.Long/2+fastening.Spare || d.InHost != d.InGuest || d.Long < 2*f.Across {
			t.Errorf("%s: %+v %v", f.ID, d, ok)
		}
	}
	for _, f := range stock.FastenersFor(stock.Magnet) {
		d, ok := fastening.Magnet(f, -0.1, 0)
		if !ok || d.InHost-f.High < 0.1+fastening.Sunk || d.InGuest-f.High < fastening.Sunk {
			t.Errorf("%s: %+v %v", f.ID, d, ok)
		}
		if _, ok := fastening.Magnet(f, -1, 1); ok {
			t.Errorf("%s holds over 2 mm", f.ID)
		}
		if _, ok := fastening.Magnet(f, unit.Length(math.Inf(-1)), unit.Length(math.Inf(1))); ok {
			t.Errorf("%s holds over an edge", f.ID)
		}
	}
}
