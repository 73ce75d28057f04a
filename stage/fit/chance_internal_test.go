package fit

import (
	"math"
	"testing"

	"scalewright/model"
	"scalewright/unit"
)

// Cumulative standard normal distribution, NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.6.7.1 (the table gives the area from 0; 0.5 added).
func TestBelowIsTheNormalTable(t *testing.T) {
	for _, c := range []struct{ z, want float64 }{
		{0, 0.5}, {0.5, 0.69146}, {1, 0.84134}, {1.5, 0.93319}, {1.96, 0.97500}, {2, 0.97725}, {2.5, 0.99379}, {3, 0.99865},
	} {
		v := unit.Value{X: 10, U: 0.2}
		if got := below(10+0.2*c.z, v); math.Abs(got-c.want) > 5.1e-6 {
			t.Errorf("below z = %v: %v, want %v", c.z, got, c.want)
		}
		if got := below(10-0.2*c.z, v); math.Abs(got-(1-c.want)) > 5.1e-6 {
			t.Errorf("below z = -%v: %v, want %v", c.z, got, 1-c.want)
		}
	}
	if below(1, unit.Exact(0)) != 1 || below(0, unit.Exact(0)) != 0 || below(-1, unit.Exact(0)) != 0 {
		t.Error("an exact value lies on one side of any limit")
	}
}

// Each of two joints binds with chance 1/2. If one printer's offset decides
// both, both bind together; if each decides for itself, they all go with chance
// 1/4; if what widens one narrows the other, never.
func TestJointsOfOnePrinterFailTogether(t *testing.T) {
	joint := func(u float64, sources ...unit.Source) model.Fit {
		return model.Fit{Clearance: unit.Estimate(0, u, sources...)}
	}
	shared := unit.Source{Name: "heron bore", U: 0.1}
	// Standard error of 4000 trials at 1/2: 0.0079; three of them.
	const tol = 0.024
	for _, c := range []struct {
		name string
		fits []model.Fit
		want float64
	}{
		{"one printer", []model.Fit{joint(0, shared), joint(0, shared)}, 0.5},
		{"two printers", []model.Fit{joint(0, shared), joint(0, unit.Source{Name: "wren bore", U: 0.1})}, 0.25},
		{"piece by piece", []model.Fit{joint(0.1), joint(0.1)}, 0.25},
		{"against each other", []model.Fit{joint(0, shared), joint(0, unit.Source{Name: "heron bore", U: -0.1})}, 0},
		// Two normals of correlation 1/2 are both positive with chance
		// 1/4 + asin(1/2)/2π = 1/3 (Sheppard 1899).
		{"half shared", []model.Fit{joint(0.1, shared), joint(0.1, shared)}, 1.0 / 3},
		{"none", nil, 1},
	} {
		if got := together(c.fits, 7); math.Abs(got-c.want) > tol {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if together([]model.Fit{joint(0.1)}, 7) != together([]model.Fit{joint(0.1)}, 7) {
		t.Error("the same seed gives two answers")
	}
}
