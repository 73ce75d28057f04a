package stock

import (
	_ "embed"
	"strings"
)

// Material is a filament's substance.
type Material struct {
	Name    string
	Density float64 // g/cm³
	Tg      float64 // °C, the least of its range
	Source  string
	Basis   string
}

//go:embed filaments.csv
var filamentsCSV string

// Materials are all materials of the table, in its order.
func Materials() []Material {
	var out []Material
	for _, r := range rows(filamentsCSV) {
		out = append(out, Material{
			Name: r.text("material"), Density: r.number("density_g_cm3"), Tg: r.number("tg_least_c"),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}

// FindMaterial is the material of a name, whatever its case.
func FindMaterial(name string) (Material, bool) {
	for _, m := range Materials() {
		if strings.EqualFold(m.Name, name) {
			return m, true
		}
	}
	return Material{}, false
}
