package stock

import (
	_ "embed"
)

// Substance is what stock is made of: how stiff and strong it is.
type Substance struct {
	ID       string
	Name     string
	E        float64 // modulus for a moment's load, MPa
	Creep    float64 // modulus under a standing load, MPa
	Strength float64 // yield or tensile strength, MPa
	Soft     float64 // °C past which it is not to be used
	Source   string
	Basis    string
}

//go:embed substances.csv
var substancesCSV string

// Substances are all substances of the table, in its order.
func Substances() []Substance {
	var out []Substance
	for _, r := range rows(substancesCSV) {
		out = append(out, Substance{
			ID: r.text("id"), Name: r.text("name"), E: r.number("e_mpa"), Creep: r.number("creep_mpa"),
			Strength: r.number("strength_mpa"), Soft: r.number("soft_c"),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}

// FindSubstance is the substance of an id.
func FindSubstance(id string) (Substance, bool) {
	for _, s := range Substances() {
		if s.ID == id {
			return s, true
		}
	}
	return Substance{}, false
}

// Substance is what the pipe is made of.
func (p Pipe) Substance() Substance {
	s, ok := FindSubstance(p.Made)
	if !ok {
		panic("stock: internal error: " + p.ID + " is made of nothing known")
	}
	return s
}
