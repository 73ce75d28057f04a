package stock

import (
	_ "embed"

	"scalewright/unit"
)

// Tolerance is a row of ISO 286: the width of a grade (IT7) or the fundamental
// deviation of a shaft's letter (g), for sizes over a limit up to and including
// another.
type Tolerance struct {
	Symbol string
	Over   unit.Length
	To     unit.Length
	By     unit.Length // width, or deviation nearest the nominal size
	Source string
	Basis  string
}

//go:embed iso286.csv
var iso286CSV string

// Tolerances are all rows of the table, in its order.
func Tolerances() []Tolerance {
	var out []Tolerance
	for _, r := range rows(iso286CSV) {
		out = append(out, Tolerance{
			Symbol: r.text("symbol"), Over: r.length("over_mm"), To: r.length("to_mm"), By: r.length("um") / 1000,
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}
