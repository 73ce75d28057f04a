package unit_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/unit"
)

func ExampleParseDim() {
	d, err := unit.ParseDim(`8 3/16 in`)
	fmt.Printf("%.4f mm, %v, %v\n", d.MM, d.Owner, err)
	d, err = unit.ParseDim("22.5 ± 0.1 ref")
	fmt.Printf("%v mm ± %v, %v, %v\n", d.MM, d.U, d.Owner, err)
	// Output:
	// 207.9625 mm, of the shop, <nil>
	// 22.5 mm ± 0.1, of the reference, <nil>
}

// The inch is 25.4 mm and the foot 304.8 mm exactly: international yard and
// pound agreement of 1959.
func TestParseDim(t *testing.T) {
	const shop, ref = unit.OfShop, unit.OfReference
	for _, c := range []struct {
		text  string
		mm, u float64
		owner unit.Owner
	}{
		{"3 mm", 3, 0, shop},
		{"3mm", 3, 0, shop},
		{"  3.25 mm ", 3.25, 0, shop},
		{".5 mm", 0.5, 0, shop},
		{"-2 mm", -2, 0, shop},
		{"+2 mm", 2, 0, shop},
		{"20.8 cm", 208, 0, shop},
		{"1.2 m", 1200, 0, shop},
		{"1 in", 25.4, 0, shop},
		{"1/8 in", 3.175, 0, shop},
		{"8 3/16 in", 207.9625, 0, shop},
		{`8 3/16"`, 207.9625, 0, shop},
		{"3 ft", 914.4, 0, shop},
		{"3'", 914.4, 0, shop},
		{`1'-4 9/16"`, 420.6875, 0, shop},
		{`1' 4 9/16"`, 420.6875, 0, shop},
		{`1'4"`, 406.4, 0, shop},
		{`0'-1/2"`, 12.7, 0, shop},
		{"22.5 ref", 22.5, 0, ref},
		{"22.5ref", 22.5, 0, ref},
		{"2 cm ref", 20, 0, ref},
		{"1/2 in ref", 12.7, 0, ref},
		{"22.5 ± 0.1 ref", 22.5, 0.1, ref},
		{"22.5 +- 0.1 ref", 22.5, 0.1, ref},
		{"22.5 +/- 0.1 ref", 22.5, 0.1, ref},
		{"22.5±0.1 mm", 22.5, 0.1, shop},
		{"22.5 mm ± 0.1 mm", 22.5, 0.1, shop},
		{"22.5 mm ± 0.1", 22.5, 0.1, shop},
		{"-0.22 ± 0.06 mm", -0.22, 0.06, shop},
		{"1 ± 1/16 in", 25.4, 1.5875, shop},
		{"2 cm ± 0.5 mm", 20, 0.5, shop},
		{"1 in ± 0.5 mm", 25.4, 0.5, shop},
		{`1'-4 9/16`, 420.6875, 0, shop},
		{`-8 3/16"`, -207.9625, 0, shop},
		{`-1'-4 9/16"`, -420.6875, 0, shop},
		{"0 mm", 0, 0, shop},
		{"100000 mm", 100000, 0, shop},
	} {
		d, err := unit.ParseDim(c.text)
		if err != nil {
			t.Errorf("ParseDim(%q): %v", c.text, err)
			continue
		}
		if math.Abs(d.MM-c.mm) > 1e-9 || math.Abs(d.U-c.u) > 1e-9 || d.Owner != c.owner || !d.Written() {
			t.Errorf("ParseDim(%q) = %v ± %v %v, want %v ± %v %v", c.text, d.MM, d.U, d.Owner, c.mm, c.u, c.owner)
		}
		if d.String() != strings.TrimSpace(c.text) {
			t.Errorf("ParseDim(%q).String() = %q", c.text, d)
		}
	}
}

func TestParseDimRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "empty"},
		{"  ", "empty"},
		{"3", "no unit"},
		{"1/8", "no unit"},
		{"ref", "not a length"},
		{"mm", "not a length"},
		{"3 parsec", "parsec"},
		{"3 mm mm", "mm mm"},
		{"3 Mm", "Mm"},
		{"3 mm refs", "refs"},
		{"1/0 in", "not a fraction"},
		{"1/2/3 in", "not a fraction"},
		{"1 2 in", "side by side"},
		{"1 2 3/4 in", "no single number"},
		{"- mm", "not a number"},
		{"1.2.3 mm", "not a number"},
		{"3 ± mm", "doubt"},
		{"3 ± -0.1 mm", "doubt"},
		{"3 ± 0.1 parsec", "parsec"},
		{"3 mm ± 0.1 parsec", "parsec"},
		{"100001 mm", "100 m"},
		{"-101 m", "100 m"},
		{`1'-4 mm`, "not a length"},
		{`1'--4"`, "negative"},
		{"3 -1/4 in", "side by side"},
		{`1'2'3"`, "not a length"},
		{"3 -4 in", "side by side"},
		{"3 mm ± 200 m", "100 m"},
	} {
		d, err := unit.ParseDim(c.text)
		bad, ok := errors.AsType[*unit.DimError](err)
		if !ok {
			t.Errorf("ParseDim(%q) = %+v, %v, want a DimError", c.text, d, err)
			continue
		}
		if !strings.Contains(err.Error(), c.says) || bad.Do == "" {
			t.Errorf("ParseDim(%q): %q does not say %q or what to do", c.text, err, c.says)
		}
		if d != (unit.Dim{}) {
			t.Errorf("ParseDim(%q) = %+v beside an error", c.text, d)
		}
	}
}

func TestDimRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := float64(rapid.IntRange(-1e8, 1e8).Draw(t, "tenth of µm")) / 1e4
		for _, d := range []unit.Dim{unit.Ref(mm), unit.Shop(mm)} {
			text, err := json.Marshal(d)
			if err != nil {
				t.Fatal(err)
			}
			var back unit.Dim
			if err := json.Unmarshal(text, &back); err != nil || math.Abs(back.MM-mm) > 1e-9 || back.Owner != d.Owner {
				t.Errorf("%s reads back as %+v, %v", text, back, err)
			}
		}
	})
}

func TestDimAt(t *testing.T) {
	if got := unit.Ref(22.5).At(6); got != 135 {
		t.Errorf("22.5 ref at 6 = %v, want 135", got)
	}
	if got := unit.Shop(3).At(6); got != 3 {
		t.Errorf("3 mm at 6 = %v, want 3", got)
	}
	if d := (unit.Dim{}); d.Written() || d.At(6) != 0 || d.String() != "" {
		t.Errorf("zero Dim = %+v at 6 is %v", d, d.At(6))
	}
}

func FuzzParseDim(f *testing.F) {
	for _, seed := range []string{"3 mm", "22.5 ± 0.1 ref", `1'-4 9/16"`, "1/8 in", "1e400 mm", "NaN ref", "0x1p4 mm", "'", `"`, "± ref", "1'-'"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := unit.ParseDim(text)
		if err != nil {
			return
		}
		if math.IsNaN(d.MM) || math.Abs(d.MM) > 100_000 || !(d.U >= 0 && d.U <= 100_000) || !d.Written() {
			t.Errorf("ParseDim(%q) = %+v", text, d)
		}
		if again, err := unit.ParseDim(d.Text); err != nil || again != d {
			t.Errorf("ParseDim(%q) = %+v, %v, at first %+v", d.Text, again, err, d)
		}
	})
}
