package unit_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/unit"
)

func ExampleSystem_Whole() {
	l := 1311 * unit.Millimetre
	fmt.Println(unit.Metric.Whole(l), "or", unit.FeetInches.Whole(l))
	// Output: 1311 mm or 4'-3 5/8"
}

func TestSystems(t *testing.T) {
	const metric, feet = unit.Metric, unit.FeetInches
	for _, c := range []struct{ got, want string }{
		{metric.Whole(1311.4), "1311 mm"},
		{metric.Tenth(111.25), "111.2 mm"},
		{metric.Tenth(110), "110 mm"},
		{metric.Fine(0.375), "0.38 mm"},
		{metric.Fine(-0.001), "0 mm"},
		{metric.Figure(84), "84"},
		{metric.Whole(-3), "-3 mm"},
		{feet.Fine(0.44), "0.44 mm"},
		{feet.Whole(0), `0"`},
		{feet.Whole(25.4), `1"`},
		{feet.Whole(304.8), `1'-0"`},
		{feet.Whole(304.8 + 3.175), `1'-0 1/8"`},
		{feet.Whole(420.6875), `1'-4 9/16"`},
		{feet.Whole(3.175), `1/8"`},
		{feet.Whole(12.7), `1/2"`},
		{feet.Whole(207.9625), `8 3/16"`},
		{feet.Whole(-207.9625), `-8 3/16"`},
		{feet.Whole(25.4 * 12 * (1 - 1e-9)), `1'-0"`}, // the sixteenths carry
		{feet.Tenth(0.7), `0"`},
		{feet.Whole(-0.5), `0"`},
		{feet.Figure(1311), `4'-3 5/8"`},
		{unit.Duration(40), "40 min"},
		{unit.Duration(660), "11 h"},
		{unit.Duration(150), "2 h 30"},
		{unit.Duration(65), "1 h 05"},
		{unit.Duration(0), "0 min"},
		{unit.OfShop.String(), "of the shop"},
		{unit.OfReference.String(), "of the reference"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	if got := unit.Mass(1234).Kilograms(); got != 1.234 {
		t.Errorf("1234 g = %v kg", got)
	}
	if got := unit.Minutes(90).Hours(); got != 1.5 {
		t.Errorf("90 min = %v h", got)
	}
	if got := unit.Inch.Millimetres(); got != 25.4 {
		t.Errorf("1 in = %v mm", got)
	}
}

// What is written in feet and inches reads back within half a sixteenth.
func TestFeetInchesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := unit.Length(rapid.Float64Range(-90_000, 90_000).Draw(t, "mm"))
		text := unit.FeetInches.Whole(l)
		back, err := unit.ParseDim(text)
		if err != nil || math.Abs(back.MM-float64(l)) > 25.4/32+1e-9 {
			t.Errorf("%v mm is written %s and reads back as %v, %v", float64(l), text, back.MM, err)
		}
	})
}
