package model

import "scalewright/unit"

// Division is what divide decides: which pieces there are, on which printer,
// which end down, and how they meet.
type Division struct {
	Pieces  []Piece     // shells of the body along its axis, what has a line of its own by part, then collars and rings
	Seams   []Seam      // of the body by station, then of each own line
	Seats   []Seat      // of core rings, by station
	Cuts    []Cut       // accepted and provisional, by part and station
	Tabs    []Tab       // of flat guests, by mount
	Windows []Window    // openings in their pieces
	Holds   []Fastening // pins, screws and magnets, by mount
}

// Seat is where a core ring sits in its host: on the end of the spigot or
// collar below it, or on the wall across the host's foot.
type Seat struct {
	Ring PieceID
	Host PieceID
	Span Span
}

// Piece by id; false when there is none.
func (d Division) Piece(id PieceID) (Piece, bool) {
	for _, p := range d.Pieces {
		if p.ID == id {
			return p, true
		}
	}
	return Piece{}, false
}

// Fit is a mating pair: what goes in, what takes it, and how they come out.
// Clearance is of diameters: negative binds.
type Fit struct {
	Seam      string // of the cut, interface or ring it belongs to
	Station   unit.Length
	Male      string // a piece's id, or "core"
	Female    string
	MaleSize  Size
	Bore      Size
	Depth     unit.Length // of engagement
	Clearance unit.Value
	Step      unit.Value // lip between the outer faces, on the radius; of shells only
	Bind      float64    // chance that it does not go together unsanded
	Loose     float64    // chance that it no longer centres itself
}

// Fits is what fit decides.
type Fits struct {
	Fits     []Fit
	Holes    []Hole  // of pins, screws and magnets
	Together float64 // chance that all go together unsanded
}

// Of are the fits of a seam or seat.
func (f Fits) Of(seam string) []Fit {
	var out []Fit
	for _, fit := range f.Fits {
		if fit.Seam == seam {
			out = append(out, fit)
		}
	}
	return out
}
