package measure

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is one photograph and what is told of it.
type Input struct {
	Photo []byte // JPEG, PNG, TIFF or WebP, as it came from the camera

	// Marks are crossings of the mat picked by hand; without any the grid is looked
	// for, and PitchMM, if given, is what its step is known to be.
	Marks model.Marks

	// Known is one known length in the photograph, where no mat lies in it; nil: none,
	// and the mat is looked for.
	Known *KnownLength

	// Others are further photographs by the same camera, of the mat from elsewhere,
	// best tilted: they tell the lens, and nothing is measured in them.
	Others []Other

	// Around is a rough polygon round the object, mm on the mat; empty: the
	// object is looked for between the marks.
	Around [][2]float64

	// Datum says which end is station 0, as seen in the upright photograph:
	// "left" (also when empty) or "right".
	Datum string

	// Length is what the maker measured, mm with its doubt; zero: nothing.
	Length unit.Value

	Hidden  []Hidden // stretches that the view does not show
	Rests   []Rest   // what stands out of the body and touches the mat
	Brushes []Brush  // what is object and what is mat, painted on the photograph

	Corrections []Correction // corners and arcs that the maker moved
	Features    []Feature    // what the maker marked on the body's side

	// Flat asks for the outlines of flat things too; then a picture without a turned
	// body is no blocker.
	Flat bool

	// Thick is how thick the flat things are, mm.
	Thick float64

	PhotoAt finding.Place // where the photograph is named
	MarksAt finding.Place // where the marks are
}

// Hidden is a stretch of the body that the view does not show, with the outline
// that the maker measured there by other means.
type Hidden struct {
	From, To float64 // stations, mm
	Because  string
	Typed    model.Outline // empty: nothing is known
	DoubtMM  float64       // standard uncertainty of a typed radius; 0: a tenth
	At       finding.Place
}

// Other is a photograph that helps the camera; without marks its grid is looked
// for, as in the measured one.
type Other struct {
	Photo   []byte
	Marks   model.Marks
	PhotoAt finding.Place
	MarksAt finding.Place
}

// KnownLength is a true length between two places of the photograph, both as high
// over the table as is said, or both at the height of the body's axis.
type KnownLength struct {
	From, To [2]float64 // pixels of the upright photograph
	Length   unit.Value // mm
	HeightMM float64    // over the table
	OnAxis   bool       // at the height of the body's axis, whatever that is
	At       finding.Place
}
