package stock

import (
	_ "embed"

	"scalewright/unit"
)

// Coating is what is spread or sprayed on.
type Coating struct {
	ID     string
	Name   string
	Unit   string       // it is sold by
	Covers float64      // m² that a unit does once
	Film   unit.Length  // that one coat adds, dry
	Bench  float64      // minutes a square metre
	Dry    unit.Minutes // until it can be sanded or coated
	Source string
	Basis  string
}

//go:embed finishes.csv
var finishesCSV string

// Coatings are all coatings of the table, in its order.
func Coatings() []Coating {
	var out []Coating
	for _, r := range rows(finishesCSV) {
		out = append(out, Coating{
			ID: r.text("id"), Name: r.text("name"), Unit: r.text("unit"), Covers: r.number("covers_m2"),
			Film: r.length("film_um") / 1000, Bench: r.number("bench_min_m2"), Dry: unit.Minutes(r.number("dry_min")),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}

// MustCoating is the coating of an id of the table.
func MustCoating(id string) Coating {
	for _, c := range Coatings() {
		if c.ID == id {
			return c
		}
	}
	panic("stock: internal error: no coating " + id)
}
