package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"scalewright/build"
	"scalewright/job"
	"scalewright/model"
)

// release keeps a piece for ever: its computed cuts are accepted first, which
// gives them ids, and then its solid, sizes and settings go into made/.
func (c *logCmd) release(ctx context.Context, f *face, o *opened, event model.Event) error {
	result, at, err := c.piece(ctx, f, o)
	if err != nil {
		return err
	}
	piece := result.Division.Pieces[at]
	if err := job.MayRelease(result, piece); err != nil {
		return usageOf(err)
	}
	if cuts := job.Provisional(result, piece); len(cuts) > 0 {
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
	files, err := job.MadeFiles(result, at)
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

// usageOf is a refusal as the command line says it.
func usageOf(err error) error {
	if refused, ok := errors.AsType[*job.Refused](err); ok {
		return &usageError{refused.What, refused.Do}
	}
	return err
}
