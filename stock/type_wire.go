package stock

import _ "embed"

// Gauge is a wire of the American wire gauge.
type Gauge struct {
	AWG     int
	OhmKM   float64 // at 20 °C
	BundleA float64 // that it carries in a bundle: 700 circular mils an ampere
	Source  string
	Basis   string
}

//go:embed wires.csv
var wiresCSV string

// Gauges are all gauges of the table, the thickest first.
func Gauges() []Gauge {
	var out []Gauge
	for _, r := range rows(wiresCSV) {
		out = append(out, Gauge{
			AWG: int(r.number("awg")), OhmKM: r.number("ohm_km"), BundleA: r.number("bundle_a"),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}
