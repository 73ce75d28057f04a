package model

import (
	"scalewright/finding"
	"scalewright/unit"
)

// Shop is what the maker owns: printers, calibrations, people and hours, stock.
type Shop struct {
	Currency  string
	Printers  []Printer // by id
	Filaments []Filament
	People    []Person
	HourPrice float64 // of the maker's own hour, in Currency; 0: not counted
	Paper     Paper   // that templates are printed on
}

// Paper is what the maker prints templates on. The zero value is not declared.
type Paper struct {
	Size  PaperSize   // empty: by the reader's units
	Short unit.Length // what a bar of 100 mm measures along the sheet's short side; 0: 100
	Long  unit.Length // the same along its long side
	Thick unit.Length // 0: as office paper
}

// PaperSize names a sheet.
type PaperSize string

// Sheets of paper.
const (
	PaperA4     PaperSize = "A4"
	PaperLetter PaperSize = "letter"
)

// Printer is a material extrusion machine.
type Printer struct {
	ID         string
	Name       string
	At         finding.Place
	Build      [3]unit.Length // build volume, x y z
	Margin     unit.Length    // kept free at the platform's edge
	Nozzle     unit.Length
	Layer      unit.Length
	Line       unit.Length // line width
	Speed      float64     // mm/s along the line
	Accel      float64     // mm/s²
	Flow       float64     // most the hot end melts, mm³/s
	WarmUp     unit.Minutes
	Calibrated Calibration
}

// Calibration is how far a printer's pieces come out from what was asked, for
// one filament, nozzle and print profile. Diameters in mm.
type Calibration struct {
	Outer    unit.Value // added to an outer diameter
	Bore     unit.Value // added to a bore's diameter
	Measured bool       // false: nobody measured both, the figures are a guess
	// Of a guess, the sides that the log has readings of.
	OuterRead, BoreRead bool
}

// Filament is a material with its price.
type Filament struct {
	ID       string
	Name     string
	Material string
	Density  float64   // g/cm³
	Spool    unit.Mass // on a full spool
	Price    float64   // a spool
	OnHand   unit.Mass
}

// Person works on the build.
type Person struct {
	ID    string
	Name  string
	Hours []OpenTime // weekly
}

// OpenTime is a weekly stretch of open time: minutes from Monday 00:00.
type OpenTime struct {
	From, To unit.Minutes
}

// Printer by id; false when the shop has none of that name.
func (s Shop) Printer(id string) (Printer, bool) {
	for _, p := range s.Printers {
		if p.ID == id {
			return p, true
		}
	}
	return Printer{}, false
}

// Filament by id; false when the shop has none of that name.
func (s Shop) Filament(id string) (Filament, bool) {
	for _, f := range s.Filaments {
		if f.ID == id {
			return f, true
		}
	}
	return Filament{}, false
}
