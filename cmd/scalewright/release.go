package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"scalewright/build"
	"scalewright/formats"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// release keeps a piece for ever: its computed cuts are accepted first, which
// gives them ids, and then its solid, sizes and settings go into made/.
func (c *logCmd) release(ctx context.Context, f *face, o *opened, event model.Event) error {
	result, at, err := c.piece(ctx, f, o)
	if err != nil {
		return err
	}
	piece := result.Division.Pieces[at]
	if err := mayRelease(result, piece); err != nil {
		return err
	}
	if cuts := provisionalOf(result, piece); len(cuts) > 0 {
		ids, _, err := o.AcceptCuts(o.loaded.Revision, cuts...)
		if err != nil {
			return err
		}
		for i, id := range ids {
			fmt.Fprintf(f.out, "the cut of %s at %s is accepted as %s\n", cuts[i].Part, cuts[i].Station, id)
		}
		if o.loaded, err = o.Load(); err != nil {
			return err
		}
		if result, err = f.derive(ctx, o); err != nil {
			return err
		}
		at = slices.IndexFunc(result.Division.Pieces, func(p model.Piece) bool {
			return p.ID.Kind == piece.ID.Kind && p.ID.Part == piece.ID.Part && p.Span == piece.Span
		})
		if at < 0 {
			return errors.New("release: the piece is not there any more after its cuts were accepted")
		}
	}
	files, err := madeFiles(result, at)
	if err != nil {
		return err
	}
	event.Printer = result.Prints[at].Printer
	label, number, err := o.Release(build.Release{Seen: o.loaded.Revision, Piece: result.Division.Pieces[at].ID, Files: files, Event: event})
	if err != nil {
		return err
	}
	fmt.Fprintf(f.out, "%s is released as %s, logged as %d\n", result.Division.Pieces[at].ID, label, number)
	return nil
}

// pieceNamed finds a piece by its id or, once it is released, its label.
func pieceNamed(r job.Result, name string) (int, error) {
	var ids []string
	for i, p := range r.Division.Pieces {
		if label := labelOf(r, p); p.ID.String() == name || label != "" && strings.EqualFold(label, name) {
			return i, nil
		}
		ids = append(ids, p.ID.String())
	}
	return 0, &usageError{fmt.Sprintf("there is no piece %q", name), hint(name, ids)}
}

// labelOf is what a released piece bears; empty before its release.
func labelOf(r job.Result, p model.Piece) string {
	for _, m := range r.Facts.Made {
		if m.Piece == p.ID.String() {
			return m.Label
		}
	}
	return ""
}

// mayRelease refuses pieces of open parts and those that are made already.
func mayRelease(r job.Result, p model.Piece) error {
	if label := labelOf(r, p); label != "" {
		return &usageError{fmt.Sprintf("%s is released already, as %s", p.ID, label), "log what happens to it under that label"}
	}
	for _, part := range r.Design.Parts {
		if part.ID == p.ID.Part && part.State == model.Open {
			return &usageError{fmt.Sprintf("%s is still open, and its pieces may change", part.ID), "write settled: true under parts." + part.Declared + " in " + build.BuildFile}
		}
	}
	return nil
}

// provisionalOf are the computed cuts that bound a piece, as they go into the
// build file: full-size millimetres, so that they stay where the piece ends. A
// copy's are those of all copies.
func provisionalOf(r job.Result, p model.Piece) []model.DeclaredCut {
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

// madeFiles are what made/ keeps of a piece.
func madeFiles(r job.Result, at int) (map[string][]byte, error) {
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
