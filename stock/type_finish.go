package stock

import (
	_ "embed"

	"scalewright/unit"
)

// PriceCurrency is that of the prices of coatings.
const PriceCurrency = "EUR"

// Coating is what is spread or sprayed on, and what it is sanded with.
type Coating struct {
	ID     string
	Name   string
	Unit   string       // it is sold by
	Covers float64      // m² that a unit does once; 0: it goes by volume
	Film   unit.Length  // that one coat adds, dry
	Bench  float64      // minutes a square metre
	Dry    unit.Minutes // until the next coat of another kind
	Recoat unit.Minutes // least wait between passes
	Sand   unit.Minutes // least wait before it is sanded
	Price  float64      // of a unit, in PriceCurrency
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
			Recoat: unit.Minutes(r.number("recoat_min")), Sand: unit.Minutes(r.number("sand_after_min")), Price: r.number("price_eur"),
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
