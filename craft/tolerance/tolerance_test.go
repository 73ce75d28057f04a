package tolerance_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/tolerance"
	"scalewright/stock"
	"scalewright/unit"
)

func ExampleLimits() {
	low, high, err := tolerance.Limits(50, "g6")
	fmt.Printf("%.3f to %.3f mm, %v\n", low, high, err)
	// Output: 49.975 to 49.991 mm, <nil>
}

// microns are the limits' deviations from the nominal size, µm.
func microns(t *testing.T, nominal unit.Length, class string) (low, high float64) {
	t.Helper()
	a, b, err := tolerance.Limits(nominal, class)
	if err != nil {
		t.Fatal(err)
	}
	return math.Round(float64(a-nominal) * 1e4 / 10), math.Round(float64(b-nominal) * 1e4 / 10)
}

func TestLimitsOfPublishedTables(t *testing.T) {
	for _, c := range []struct {
		nominal   unit.Length
		class     string
		low, high float64
	}{
		// JIS B 0401:1999 shaft table (identical with ISO 286-2), 3 to 65 mm.
		{4, "g6", -12, -4},
		{8, "f7", -28, -13},
		{12, "e8", -59, -32},
		{25, "d9", -117, -65},
		{40, "g6", -25, -9},
		{60, "f7", -60, -30},
		{65, "e8", -106, -60},
		{65, "d9", -174, -100},
		// h classes of two tool makers' tables, to 315 and 500 mm.
		{100, "h6", -22, 0},
		{160, "h7", -40, 0},
		{200, "h9", -115, 0},
		{250, "h11", -290, 0},
		// ISO 286-2:1988 Technical Corrigendum 1:2006: E8 at 80 to 120 mm is +72 to
		// +126; e8 mirrors it.
		{100, "e8", -126, -72},
		// A public repository's own test of ISO 286: H6 at 132.5 is +25 / 0.
		{132.5, "H6", 0, 25},
		// Over a, up to and including b.
		{30, "H7", 0, 21},
		{30.001, "H7", 0, 25},
		{50, "H7", 0, 25},
		{80, "H7", 0, 30},
	} {
		if low, high := microns(t, c.nominal, c.class); low != c.low || high != c.high {
			t.Errorf("Limits(%v %s) = %v/%v µm, want %v/%v", c.nominal, c.class, low, high, c.low, c.high)
		}
	}
}

// Preferred hole-basis fits (ANSI B4.2) at 50 mm, worked from the deviations of
// ISO 286-2: least and largest clearance, µm; negative is interference.
func TestWorkedFits(t *testing.T) {
	for _, c := range []struct {
		hole, shaft    string
		least, largest float64
	}{
		{"H7", "g6", 9, 50},
		{"H8", "f7", 25, 89},
		{"H9", "d9", 80, 204},
		{"H11", "c11", 130, 450},
		{"H7", "h6", 0, 41},
		{"H7", "k6", -18, 23},
		{"H7", "p6", -42, -1},
	} {
		h0, h1 := microns(t, 50, c.hole)
		s0, s1 := microns(t, 50, c.shaft)
		if least, largest := h0-s1, h1-s0; least != c.least || largest != c.largest {
			t.Errorf("50 %s/%s clears %v to %v µm, want %v to %v", c.hole, c.shaft, least, largest, c.least, c.largest)
		}
	}
}

func TestLimitsRefuses(t *testing.T) {
	for _, c := range []struct {
		nominal unit.Length
		class   string
	}{{50, ""}, {50, "H"}, {50, "7"}, {50, "H5"}, {50, "z6"}, {50, "IT7"}, {3, "H7"}, {250.1, "H7"}, {-1, "H7"}, {unit.Length(math.NaN()), "H7"}} {
		if low, high, err := tolerance.Limits(c.nominal, c.class); err == nil {
			t.Errorf("Limits(%v, %q) = %v, %v, want an error", c.nominal, c.class, low, high)
		}
	}
}

// ISO 286-1's formula, i = 0.45·∛D + 0.001·D at the geometric mean of a range,
// lies within 15 % of every grade in the table.
func TestTableAgreesWithTheFormula(t *testing.T) {
	times := map[string]float64{"IT6": 10, "IT7": 16, "IT8": 25, "IT9": 40, "IT10": 64, "IT11": 100, "IT12": 160, "IT13": 250}
	seen := 0
	for _, row := range stock.Tolerances() {
		k, ok := times[row.Symbol]
		if !ok {
			continue
		}
		seen++
		d := math.Sqrt(float64(row.Over * row.To))
		want := k * (0.45*math.Cbrt(d) + 0.001*d) / 1000
		if math.Abs(float64(row.By)-want) > 0.15*want {
			t.Errorf("%s over %v to %v is %v, the formula gives %v", row.Symbol, row.Over, row.To, row.By, want)
		}
	}
	if seen != 8*9 {
		t.Errorf("%d grades in the table, want 72", seen)
	}
}

func TestWidthGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := unit.Length(rapid.Float64Range(0.5, 2000).Draw(t, "d"))
		grade := rapid.IntRange(6, 12).Draw(t, "grade")
		w := tolerance.Width(d, grade)
		if w <= 0 || tolerance.Width(d, grade+1) <= w {
			t.Errorf("IT%d at %v is %v, IT%d is %v", grade, d, w, grade+1, tolerance.Width(d, grade+1))
		}
		if wider := tolerance.Width(2*d, grade); wider <= w {
			t.Errorf("IT%d at %v is %v, at %v %v", grade, d, w, 2*d, wider)
		}
	})
	for _, grade := range []int{-1, 0, 5, 14} {
		if w := tolerance.Width(50, grade); w != 0 {
			t.Errorf("Width(50, %d) = %v, want 0", grade, w)
		}
	}
}
