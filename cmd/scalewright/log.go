package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

type logCmd struct {
	Dir string `arg:"" help:"Folder of the build."`

	Event string   `arg:"" help:"released, started, printed, failed, measured, done, spent, photo, note or withdrawn." enum:"released,started,printed,failed,measured,done,spent,photo,note,withdrawn"`
	What  []string `arg:"" optional:"" help:"What it concerns. A piece's id or label; measured PRINTER outer|bore ASKED CAME or measured core CAME; done ID; spent AMOUNT; photo FILE; note TEXT; withdrawn NUMBER, which takes an earlier event back."`

	Minutes int     `help:"How long it took."`
	Grams   float64 `help:"Filament used."`
	Text    string  `help:"A remark."`
	At      string  `help:"When, RFC 3339; now if not given."`
}

func (c *logCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if err != nil {
		return err
	}
	defer o.Close()
	event := model.Event{
		Kind: model.EventKind(c.Event), Time: c.At, Text: c.Text,
		Minutes: unit.Minutes(c.Minutes), Grams: unit.Mass(c.Grams),
	}
	if event.Time == "" {
		event.Time = time.Now().Format(time.RFC3339)
	} else if _, err := time.Parse(time.RFC3339, event.Time); err != nil {
		return &usageError{fmt.Sprintf("%q is not a time", c.At), "write it like 2026-12-01T18:30:00+01:00"}
	}
	if err := c.bounds(); err != nil {
		return err
	}
	switch event.Kind {
	case model.Released:
		return c.release(ctx, f, o, event)
	case model.Measured:
		err = c.measured(&event, o)
	case model.Started, model.Printed, model.Failed:
		err = c.ofPiece(ctx, f, o, &event)
	case model.Done:
		event.Task, err = c.work(ctx, f, o)
	case model.Spent:
		event.Money, err = c.amount()
	case model.Photo:
		event.Text, err = c.photo()
	case model.Remark:
		event.Text, err = c.only("a text")
	case model.Withdrawn:
		event.Of, err = c.withdrawn(o)
	}
	if err != nil {
		return err
	}
	number, err := o.Append(event)
	if err != nil {
		return err
	}
	fmt.Fprintf(f.out, "logged as %d\n", number)
	return nil
}

// only is the one word that an event takes.
func (c *logCmd) only(what string) (string, error) {
	if len(c.What) != 1 || strings.TrimSpace(c.What[0]) == "" {
		return "", &usageError{fmt.Sprintf("%s takes one thing", c.Event), "give " + what}
	}
	return c.What[0], nil
}

func (c *logCmd) amount() (float64, error) {
	text, err := c.only("an amount, such as 22.50")
	if err != nil {
		return 0, err
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(x) <= mostMoney) {
		return 0, &usageError{fmt.Sprintf("%q is not an amount", text), "write it like 22.50"}
	}
	return x, nil
}

// piece derives the build and finds in it the piece that is named by id or label.
func (c *logCmd) piece(ctx context.Context, f *face, o *opened) (job.Result, int, error) {
	name, err := c.only("a piece's id or label")
	if err != nil {
		return job.Result{}, 0, err
	}
	result, err := f.unblocked(ctx, o)
	if err != nil {
		return job.Result{}, 0, err
	}
	at, err := pieceNamed(result, name)
	return result, at, err
}

// ofPiece notes the piece that an event concerns.
func (c *logCmd) ofPiece(ctx context.Context, f *face, o *opened, e *model.Event) error {
	result, at, err := c.piece(ctx, f, o)
	if err != nil {
		return err
	}
	piece := result.Division.Pieces[at]
	e.Piece, e.Label, e.Printer = piece.ID.String(), labelOf(result, piece), result.Prints[at].Printer
	return c.notProvisional(result, piece)
}

// notProvisional refuses to log a piece whose bounds may still move.
func (c *logCmd) notProvisional(r job.Result, p model.Piece) error {
	if len(job.Provisional(r, p)) == 0 {
		return nil
	}
	return &usageError{
		fmt.Sprintf("%s lies at a cut that is only computed and may still move", p.ID),
		"release the piece first: scalewright log DIR released " + p.ID.String(),
	}
}

func hint(name string, known []string) string {
	if near := finding.Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %s?", near)
	}
	slices.Sort(known)
	return "known here: " + string(finding.Names(known...))
}
