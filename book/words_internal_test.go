package book

import (
	"math"
	"testing"

	"scalewright/unit"
)

func TestTimes(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{
		{1, "more than 99 times in 100"},
		{0.996, "more than 99 times in 100"},
		{0.99, "99 times in 100"},
		{0.959, "95 times in 100"},
		{0.29, "29 times in 100"}, // 0.29*100 is 28.999... in binary
		{0.003, "less than once in 100"},
	} {
		if got := times(c.p); got != c.want {
			t.Errorf("times(%v) = %q, want %q", c.p, got, c.want)
		}
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{hours(7.84), "7.8"},
		{hours(9.96), "10"},
		{hours(212.4), "212"},
		{hours(3), "3"},
		{mass(950), "950 g"},
		{mass(6300), "6.3 kg"},
		{money(310.4, "EUR"), "310 €"},
		{money(310.4, "USD"), "$310"},
		{money(310.4, "CHF"), "310 CHF"},
		{money(310.4, ""), "310"},
		{day("2026-12-09"), "9 December 2026"},
		{day("soon"), "soon"},
		{count(1, "spool", "spools"), "one spool"},
		{count(7, "spool", "spools"), "seven spools"},
		{count(28, "spool", "spools"), "28 spools"},
		{slug("Foyer rocket (2)"), "foyer-rocket-2"},
		{slug("--"), ""},
		{sentence("the wall is thin"), "The wall is thin."},
		{sentence(""), ""},
		{unit.Metric.Fine(twice(0.3)), "0.6 mm"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestFigureJSON(t *testing.T) {
	for x, want := range map[float64]string{
		67.18333333333334: "67.183333", 0: "0", -1e-9: "0", 1311: "1311", 0.1 + 0.2: "0.3", math.Inf(1): "null",
	} {
		got, err := figure(x).MarshalJSON()
		if err != nil || string(got) != want {
			t.Errorf("figure(%v) = %s, %v, want %s", x, got, err, want)
		}
	}
	if got, _ := figure(math.NaN()).MarshalJSON(); string(got) != "null" {
		t.Errorf("figure(NaN) = %s", got)
	}
}
