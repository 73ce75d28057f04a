package model

import (
	"strings"

	"scalewright/unit"
)

// Bounds of a part that are not cuts.
const (
	Foot = "foot" // the end nearer the datum
	Nose = "nose" // the far end
	Top  = "top"  // of the stand's post, in the core
)

// PieceKind says what a piece is to its part.
type PieceKind string

// Kinds of piece.
const (
	Shell      PieceKind = "shell"
	CollarRing PieceKind = "collar" // joins two shells from inside
	CoreRing   PieceKind = "ring"   // rides on the core
	Panel      PieceKind = "panel"  // closes an opening
	Slice      PieceKind = "slice"  // of a part that is not turned
	Bush       PieceKind = "bush"   // centres the stand's post in the core
)

// PieceID is part id and the ids of the bounds the piece lies between. It does
// not depend on how many pieces there are, so an accepted cut renames none that
// it does not touch; ids of provisional cuts are counted anew each time.
type PieceID struct {
	Kind PieceKind
	Part string
	From string // a cut id, or foot
	To   string // a cut id, or nose; empty for a collar or ring
}

// String is the id as it stands in files and reports: "body.foot.c1",
// "body.c1.collar". Ids hold no full stop, so it reads one way only.
func (id PieceID) String() string {
	if id.Kind == Shell {
		return strings.Join([]string{id.Part, id.From, id.To}, ".")
	}
	return strings.Join([]string{id.Part, id.From, string(id.Kind)}, ".")
}

// MarshalText writes String.
func (id PieceID) MarshalText() ([]byte, error) { return []byte(id.String()), nil }

// Direction is which end stands on the build platform.
type Direction string

// Print directions.
const (
	FootDown Direction = "foot down"
	NoseDown Direction = "nose down"
	// Lying is how a flat piece is printed.
	Lying Direction = "lying flat"
)

// Seam is an interface made concrete: two pieces meet at a station. Side facts
// are in the pieces; sizes come from the fit stage.
type Seam struct {
	ID      string // of the cut or of the interface
	Station unit.Length
	Kind    JointKind
	Below   PieceID
	Above   PieceID
	Engage  unit.Length // depth of spigot or half collar past the seam
	Glue    string
	// Removable joints are not glued: they come apart for service.
	Removable bool
}

// Piece is one made object after dividing.
type Piece struct {
	ID        PieceID
	Name      string // "body 2 of 3", for people
	Span      Span   // between its bounds; a spigot may stand out past it
	Printer   string
	Filament  string
	Direction Direction
	Own       bool         // of a part that is no stretch of the body: its span is on the part's own line
	OnCore    bool         // of such a piece: the core runs through it
	Counted   unit.Minutes // printing time that choosing the printer counted on, wherever it is printed
}

// Size is one side of a joint: what to print, and what comes out.
type Size struct {
	Nominal unit.Length // diameter to print
	Actual  unit.Value  // diameter as printed, with its sources
}
