package stock

import _ "embed"

// Gauge is a wire of the American wire gauge.
type Gauge struct {
	AWG     int
	OhmKM   float64 // at 20 °C
	BundleA float64 // that it carries in a bundle: 700 circular mils an ampere
	// ChassisA is what one wire in free air carries: what it bears until a fuse
	// opens.
	ChassisA float64
	Source   string
	Basis    string
}

//go:embed wires.csv
var wiresCSV string

// Gauges are all gauges of the table, the thickest first.
func Gauges() []Gauge {
	var out []Gauge
	for _, r := range rows(wiresCSV) {
		out = append(out, Gauge{
			AWG: int(r.number("awg")), OhmKM: r.number("ohm_km"), BundleA: r.number("bundle_a"), ChassisA: r.number("chassis_a"),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}

// Fuse is a rated current of miniature fuses.
type Fuse struct {
	Amps   float64
	Source string
	Basis  string
}

//go:embed fuses.csv
var fusesCSV string

// Fuses are the ratings, the smallest first.
func Fuses() []Fuse {
	var out []Fuse
	for _, r := range rows(fusesCSV) {
		out = append(out, Fuse{Amps: r.number("amps"), Source: r.text("source"), Basis: r.text("basis")})
	}
	return out
}
