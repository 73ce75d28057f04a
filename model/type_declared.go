package model

import (
	"scalewright/finding"
	"scalewright/unit"
)

// Declared is a build as its maker wrote it, checked for form and names, not
// yet enlarged.
type Declared struct {
	Name       string
	Revision   int
	Invented   string // says that the example is invented; empty on a real build
	Reference  DeclaredReference
	Enlarge    DeclaredEnlarge
	Core       *DeclaredCore
	Parts      []DeclaredPart // sorted by where they begin, then by id
	Joints     []DeclaredJoint
	Cuts       []DeclaredCut
	Openings   []DeclaredOpening // sorted by id
	Finish     Finish
	Site       *Site
	Stand      *DeclaredStand
	Components []DeclaredComponent // sorted by id
	Shows      []Show              // sorted by id
	Calendar   DeclaredCalendar
	Quiet      []Quiet
	Shop       Shop
}

// DeclaredReference is what is known of the copied object before measuring.
type DeclaredReference struct {
	At          finding.Place
	Photo       string   // file of the build folder; empty when the outline is typed
	More        []string // files of further photographs by the same camera
	Marks       string   // file of the build folder
	Grid        unit.Dim // step of the mat's print, where it was told
	Known       *DeclaredKnown
	Outline     string // file of a typed or accepted outline
	Length      unit.Dim
	Around      [][2]float64 // rough polygon round the object, mm on the mat
	Hidden      []DeclaredHidden
	Rests       []DeclaredRest
	Brushes     []DeclaredBrush
	Corrections []DeclaredCorrection
	Features    []DeclaredFeature // sorted by id
	Datum       string            // "left" or "right": which end of the photograph is station 0

	Readings []DeclaredReading
	True     DeclaredTrue
}

// DeclaredKnown is a known length between two places of the photograph, where no mat
// lies in it.
type DeclaredKnown struct {
	At       finding.Place
	Length   unit.Dim
	From, To [2]float64 // pixels of the upright photograph
	Above    unit.Dim   // over the table
	OnAxis   bool       // at the height of the body's axis instead
}

// DeclaredBrush is a stroke painted on the photograph: what lies under it is the
// object, or is not.
type DeclaredBrush struct {
	In      bool         // of the object; else of the mat
	WidthMM float64      // mm on the mat
	Path    [][2]float64 // mm on the mat
}

// DeclaredCorrection is a corner or an arc of the outline moved by hand.
type DeclaredCorrection struct {
	At finding.Place
	Correction
}

// DeclaredFeature is something marked on the body's side in the photograph.
type DeclaredFeature struct {
	ID       string
	At       finding.Place
	Kind     FeatureKind
	From, To [2]float64 // mm on the mat
}

// DeclaredRest is a place that stands out of the body and touches the mat: its
// station, and how far below the axis it lies.
type DeclaredRest struct {
	At, Below unit.Dim
}

// DeclaredHidden is a stretch that the photograph does not show, and the file
// of the outline typed for it.
type DeclaredHidden struct {
	At       finding.Place
	From, To unit.Dim
	Because  string
	Outline  string
}

// DeclaredOutline is an outline that somebody typed or accepted, in mm of the
// reference, with the standard uncertainty of its radii.
type DeclaredOutline struct {
	Path    Outline
	DoubtMM float64
	Owner   unit.Owner // of the shop: what the outline says is full size
	Closed  bool       // a flat part's: points are (x, y), the last is the first
	Holes   []Outline  // of a closed one
}

// DeclaredEnlarge is how the size is set: a ratio, or the overall length.
type DeclaredEnlarge struct {
	At     finding.Place
	Ratio  float64  // 0 when the length sets it
	Length unit.Dim // of the shop
}

// DeclaredCore is the stock pipe inside.
type DeclaredCore struct {
	At       finding.Place
	Stock    string
	From, To unit.Dim
	Hold     CoreHold
}

// DeclaredPart is one designed thing as written.
type DeclaredPart struct {
	ID         string
	At         finding.Place
	Form       Form
	From, To   unit.Dim // of a turned part, and of a flat one that lies across
	Wall       unit.Dim // of what is hollow
	Open       []string // ends left open: "foot", "nose"
	Outline    string   // file of its own outline; empty: a stretch of the body's
	Bore       unit.Dim // diameter bored along its own axis
	Thick      unit.Dim // of a flat part
	Lie        Lie
	Model      string     // file of an imported part
	ModelUnit  unit.Owner // mm of the reference or of the shop
	Clockings  []float64  // rad; several: a copy at each, named id-1, id-2 …
	Axis       *DeclaredAxis
	Printers   []string
	Filament   string
	Unfinished bool // stays as printed
	Settled    bool
}

// DeclaredAxis is a part's own axis: where its station 0 stands in the build's
// frame, and which way it points.
type DeclaredAxis struct {
	At        finding.Place
	Position  [3]unit.Dim
	Direction [3]float64
	Clocking  float64 // rad, of its own clocking 0: see Axis
}

// DeclaredJoint is how two parts, or the pieces of one part, are joined.
type DeclaredJoint struct {
	ID        string
	At        finding.Place
	Between   [2]string
	Kind      JointKind // empty: the program chooses
	Glue      string
	Removable bool
}

// DeclaredCut is a cut that was accepted: it has an id and keeps it.
type DeclaredCut struct {
	ID      string
	At      finding.Place
	Part    string
	Station unit.Dim
	Kind    JointKind // empty: the program chooses
}

// DeclaredCalendar is when work may begin and when it must be ready.
type DeclaredCalendar struct {
	At    finding.Place
	Start string // date, 2026-11-02
	Ready string // date; empty: no fixed date
}

// Quiet silences a caution, with the maker's reason.
type Quiet struct {
	At      finding.Place
	Code    finding.Code
	Because string
}

// DeclaredOpening is a hole through a part's wall as written.
type DeclaredOpening struct {
	ID       string
	At       finding.Place
	Part     string
	Station  unit.Dim
	Clocking float64  // rad
	Across   unit.Dim // of a round one
	Wide     unit.Dim
	High     unit.Dim
	Panel    bool
}

// DeclaredStand is a stand as written. Its lengths are of the shop.
type DeclaredStand struct {
	At      finding.Place
	Across  unit.Dim
	Square  bool
	Thick   unit.Dim
	Density float64
	Ballast unit.Mass
	Post    string // stock
	Engage  unit.Dim
	Below   unit.Dim
}

// DeclaredComponent is a bought thing of lights and sound as written.
type DeclaredComponent struct {
	ID       string
	At       finding.Place
	Kind     string // of the table of components
	Part     string
	Opening  string
	Station  unit.Dim
	Clocking float64
	Pixels   int
	Service  Service
}
