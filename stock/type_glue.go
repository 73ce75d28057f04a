package stock

import (
	_ "embed"

	"scalewright/unit"
)

// Glue is an adhesive for joints.
type Glue struct {
	ID      string
	Name    string
	Work    unit.Minutes // from mixing or opening until it grabs
	Cure    unit.Minutes // until it carries its full load
	MostGap unit.Length  // it fills on one side
	Soft    float64      // °C past which it lets go
	Source  string
	Basis   string
}

//go:embed glues.csv
var gluesCSV string

// Glues are all glues of the table, in its order.
func Glues() []Glue {
	var out []Glue
	for _, r := range rows(gluesCSV) {
		out = append(out, Glue{
			ID: r.text("id"), Name: r.text("name"),
			Work: unit.Minutes(r.number("work_min")), Cure: unit.Minutes(r.number("cure_min")),
			MostGap: r.length("most_gap_mm"), Soft: r.number("soft_c"), Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}

// FindGlue is the glue of an id.
func FindGlue(id string) (Glue, bool) {
	for _, g := range Glues() {
		if g.ID == id {
			return g, true
		}
	}
	return Glue{}, false
}

// Where a maker names no glue it is epoxy, which fills the widest gaps of the
// table and leaves time to set a joint straight: common practice.
const usualGlue = "epoxy"

// GlueFor is the glue of an id, and the usual one where the table has no such.
func GlueFor(id string) Glue {
	if g, ok := FindGlue(id); ok {
		return g
	}
	g, ok := FindGlue(usualGlue)
	if !ok {
		panic("stock: internal error: the table has no " + usualGlue)
	}
	return g
}
