package carve

import (
	"scalewright/model"
)

// Input is one piece and all that touches it.
type Input struct {
	Piece    model.Piece
	Part     model.Part
	Raw      model.Raw
	Below    *Joint     // of a shell: the seam at its foot, where it is the upper piece
	Above    *Joint     // of a shell: the seam at its nose; of a collar: the seam it joins
	Seats    []Seat     // of a shell: the rings it hosts; of a ring: its own seat
	OnCore   *model.Fit // of what slides along the core: its bore
	Core     *model.Core
	Segments int // flats of a circle

	Hosts   []Host       // of a guest: what it is mounted on
	Tabs    []Tab        // of a guest or a host
	Passes  []model.Pass // of a core ring: holes for cables
	Windows []Window     // of a shell: openings in it; of a panel: the one it closes
	Bush    []model.Fit  // of a bush: in the core, and of the post in it
	Holds   []Hold       // of a guest or a host: pins, screws and magnets
}

// Host is a part that a guest ends at.
type Host struct {
	Mount    model.Mount
	Part     model.Part
	Raw      model.Raw
	Segments int
}

// Tab is a tongue with its fit.
type Tab struct {
	Tab model.Tab
	Fit model.Fit
}

// Window is an opening with its panel's fit; the zero fit where it has none.
type Window struct {
	Window model.Window
	Fit    model.Fit
	Holes  []model.Hole // of its screws in this piece
}

// Hold is a fastening with its holes in this piece.
type Hold struct {
	Hold  model.Fastening
	Holes []model.Hole
}

// printed is the diameter to print of a hole.
func printed(holes []model.Hole, use model.HoleFor) float64 {
	for _, h := range holes {
		if h.For == use {
			return float64(h.Size.Nominal)
		}
	}
	panic("carve: internal error: no hole for a " + string(use))
}

// Joint is a seam with the fits it got.
type Joint struct {
	Seam model.Seam
	Fits []model.Fit
}

// Seat is a core ring's place with the fit in its host.
type Seat struct {
	Seat model.Seat
	Fit  model.Fit
}

const (
	leadIn   = 0.8 // mm, 45° at the mouth of a socket and the tip of a spigot: common practice
	leadWall = 3.0 // a lead-in takes no more than the wall over this: an edge must stay
	landFill = 3.0 // a land nearer to the shell than so many walls is filled solid
)
