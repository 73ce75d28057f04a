package job

import (
	"bytes"
	"encoding/json"
	"fmt"

	"scalewright/formats"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Refused says why something that happened at the bench cannot be taken down, and
// what to do.
type Refused struct{ What, Do string }

func (r *Refused) Error() string { return r.What }

// MayRelease refuses pieces of open parts and those that are made already.
func MayRelease(r Result, p model.Piece) error {
	for _, m := range r.Facts.Made {
		if m.Piece == p.ID.String() && m.Label != "" {
			return &Refused{fmt.Sprintf("%s is released already, as %s", p.ID, m.Label), "log what happens to it under that label"}
		}
	}
	for _, part := range r.Design.Parts {
		if part.ID == p.ID.Part && part.State == model.Open {
			return &Refused{fmt.Sprintf("%s is still open, and its pieces may change", part.ID), "write settled: true under parts." + part.Declared + " in build.yaml"}
		}
	}
	return nil
}

// Provisional are the computed cuts that bound a piece, as they go into the build
// file: full-size millimetres, so that they stay where the piece ends. A copy's are
// those of all copies.
func Provisional(r Result, p model.Piece) []model.DeclaredCut {
	name := p.ID.Part
	for _, part := range r.Design.Parts {
		if part.ID == p.ID.Part {
			name = part.Declared
		}
	}
	var cuts []model.DeclaredCut
	for _, c := range r.Division.Cuts {
		if c.Provisional && c.Part == p.ID.Part && (c.ID == p.ID.From || c.ID == p.ID.To) {
			cuts = append(cuts, model.DeclaredCut{Part: name, Station: unit.Shop(float64(c.Station)), Kind: c.Kind})
		}
	}
	return cuts
}

// MadeFiles are what made/ keeps of a piece: the solid that is printed, its sizes
// and the printer's settings.
func MadeFiles(r Result, at int) (map[string][]byte, error) {
	piece, print := r.Division.Pieces[at], r.Prints[at]
	// The very solid that is printed: in single precision where that holds it.
	placed := r.Carved[at].Solid.Transform(print.Placement)
	if rounded, _, err := formats.Round32(placed); err == nil {
		placed = rounded
	}
	var threeMF bytes.Buffer
	err := formats.Write3MF(&threeMF, formats.Model{
		Objects: []formats.Object{{Name: piece.ID.String(), Mesh: placed}},
		Items:   []formats.Item{{Object: 0, Transform: solid.Identity()}},
	})
	if err != nil {
		return nil, fmt.Errorf("write the solid of %s: %w", piece.ID, err)
	}
	var fits []model.Fit
	for _, fit := range r.Fits.Fits {
		if fit.Male == piece.ID.String() || fit.Female == piece.ID.String() {
			fits = append(fits, fit)
		}
	}
	sizes, err := json.MarshalIndent(struct {
		Piece    model.Piece
		Reach    model.Span
		Volume   float64
		Features []string
		Fits     []model.Fit
	}{piece, r.Carved[at].Reach, r.Carved[at].Volume, r.Division.Features(piece.ID), fits}, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write the sizes of %s: %w", piece.ID, err)
	}
	printer, _ := r.Design.Shop.Printer(print.Printer)
	settings, err := json.MarshalIndent(printer, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write the settings of %s: %w", piece.ID, err)
	}
	return map[string][]byte{"piece.3mf": threeMF.Bytes(), "sizes.json": sizes, "settings.json": settings}, nil
}
