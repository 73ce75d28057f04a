package stock

import (
	_ "embed"
	"math"

	"scalewright/unit"
)

// Caliper is how far off a reading of a caliper may be, up to a length.
type Caliper struct {
	ID     string
	Name   string
	UpTo   unit.Length // readings that the row is for
	Limit  unit.Length // error of indication that is permitted
	Hand   unit.Length // standard uncertainty of a hand that holds it
	Source string
	Basis  string
}

//go:embed calipers.csv
var calipersCSV string

// Calipers are the rows of the table, in its order.
func Calipers() []Caliper {
	var out []Caliper
	for _, r := range rows(calipersCSV) {
		out = append(out, Caliper{
			ID: r.text("id"), Name: r.text("name"), UpTo: r.length("up_to_mm"), Limit: r.length("limit_mm"),
			Hand: r.length("hand_mm"), Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}

// CaliperDoubt is the standard uncertainty of a reading that gives none: the limit
// of error as a rectangle (JCGM 100:2008, 4.3.7) and the hand.
func CaliperDoubt(reading unit.Length) unit.Length {
	all := Calipers()
	c := all[len(all)-1]
	for _, row := range all {
		if reading <= row.UpTo {
			c = row
			break
		}
	}
	return unit.Length(math.Hypot(float64(c.Limit)/math.Sqrt(3), float64(c.Hand)))
}
