package stock

import (
	_ "embed"
	"strconv"
	"strings"

	"scalewright/unit"
)

// FastenerUse is what a fastener is.
type FastenerUse string

// Uses of fasteners.
const (
	Pin    FastenerUse = "pin"
	Screw  FastenerUse = "screw" // countersunk, its head a cone of 90°
	Magnet FastenerUse = "magnet"
)

// Fastener is a pin, a screw or a disc magnet: what holds two pieces besides glue.
type Fastener struct {
	ID       string
	Name     string
	Use      FastenerUse
	Across   unit.Length // nominal diameter
	Most     unit.Length // largest diameter that is sold as that
	HeadHigh unit.Length // of a screw's head, at its largest
	Passes   unit.Length // hole that lets a screw through
	Thread   unit.Length // hole that a screw cuts its thread into
	High     unit.Length // of a magnet
	Lengths  []unit.Length
	Density  float64 // g/cm³
	Source   string
	Basis    string
}

//go:embed fasteners.csv
var fastenersCSV string

// Fasteners are all fasteners of the table, in its order: of each use the
// smallest first.
func Fasteners() []Fastener {
	var out []Fastener
	for _, r := range rows(fastenersCSV) {
		f := Fastener{
			ID: r.text("id"), Name: r.text("name"), Use: FastenerUse(r.text("use")),
			Across: r.length("across_mm"), Most: r.length("most_mm"), HeadHigh: r.length("head_high_mm"),
			Passes: r.length("passes_mm"), Thread: r.length("thread_mm"), High: r.length("high_mm"),
			Density: r.number("density_g_cm3"), Source: r.text("source"), Basis: r.text("basis"),
		}
		for l := range strings.FieldsSeq(r.text("lengths_mm")) {
			mm, err := strconv.ParseFloat(l, 64)
			if err != nil {
				panic("stock: internal error: length " + l + " of " + f.ID)
			}
			f.Lengths = append(f.Lengths, unit.Length(mm))
		}
		out = append(out, f)
	}
	return out
}

// FastenersFor are those of a use, the largest first.
func FastenersFor(use FastenerUse) []Fastener {
	var out []Fastener
	for _, f := range Fasteners() {
		if f.Use == use {
			out = append([]Fastener{f}, out...)
		}
	}
	return out
}

// Head is the diameter at which a countersunk head's cone would end sharp, as wide
// as the countersink must be for the head to lie in it: the cone of 90° widens by
// two of its height.
func (f Fastener) Head() unit.Length { return f.Across + 2*f.HeadHigh }

// Cone is how deep a countersunk head narrows before the hole for the screw.
func (f Fastener) Cone() unit.Length { return (f.Head() - f.Passes) / 2 }

// Longest is the longest of its lengths that is no longer than so much; false
// where there is none.
func (f Fastener) Longest(most unit.Length) (unit.Length, bool) {
	for i := len(f.Lengths) - 1; i >= 0; i-- {
		if f.Lengths[i] <= most {
			return f.Lengths[i], true
		}
	}
	return 0, false
}
