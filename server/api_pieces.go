package server

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"scalewright/book"
	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/calendar"
)

// pieceAt is the place of a piece in the division, by its id or, once it is
// released, its label; -1: there is none.
func pieceAt(r job.Result, name string) int {
	return slices.IndexFunc(r.Division.Pieces, func(p model.Piece) bool {
		id := p.ID.String()
		label := book.Label(r, id)
		return id == name || label != "" && strings.EqualFold(label, name)
	})
}

func asRefused(err error) (*job.Refused, bool) { return errors.AsType[*job.Refused](err) }

func pieces(ctx context.Context, d *desk, in seenIn) (PieceList, error) {
	s, asOf, err := d.see(ctx, job.Settled)
	if err != nil {
		return PieceList{}, err
	}
	out := PieceList{AsOf: asOf, Pieces: []PieceLine{}}
	for i := range min(len(s.result.Division.Pieces), len(s.result.Prints)) {
		out.Pieces = append(out.Pieces, pieceLine(s, i))
	}
	return out, nil
}

func pieceLine(s *shown, i int) PieceLine {
	r := s.result
	p, print := r.Division.Pieces[i], r.Prints[i]
	id := p.ID.String()
	out := PieceLine{
		ID: id, Label: book.Label(r, id), Name: p.Name, Part: p.ID.Part, State: stateOf(s, id), Printer: book.PrinterName(r, print.Printer),
		Minutes: int(print.Minutes), Mass: hundredth(float64(print.Grams)), Span: stretchOf(p.Span), File: build.OutDir + "/" + book.PrintFile(id),
	}
	for _, f := range r.Findings {
		if f.Severity > finding.Note && f.Part == p.ID.Part {
			out.Findings++
		}
	}
	return out
}

// stateOf is how far a piece is, by the last event that is of it and stands.
func stateOf(s *shown, id string) string {
	state := "planned"
	back := map[int]bool{}
	for _, e := range s.loaded.Events {
		if e.Kind == model.Withdrawn {
			back[e.Of] = true
		}
	}
	for _, e := range s.loaded.Events {
		if e.Piece != id || back[e.Number] {
			continue
		}
		switch e.Kind {
		case model.Released:
			state = "released"
		case model.Started:
			state = "printing"
		case model.Printed:
			state = "printed"
		case model.Failed:
			state = "failed"
		}
	}
	return state
}

type pieceIn struct {
	OnBuild
	InUnits
	Piece string `path:"piece" maxLength:"120" doc:"Id or label."`
}

func piecePage(ctx context.Context, d *desk, in pieceIn) (PiecePage, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return PiecePage{}, err
	}
	r := s.result
	i := pieceAt(r, in.Piece)
	if i < 0 || i >= len(r.Prints) {
		return PiecePage{}, notFound("there is no piece of that name", "the list of pieces has them")
	}
	p := r.Division.Pieces[i]
	id := p.ID.String()
	bench := book.BenchOf(r, i, in.system())
	out := PiecePage{
		AsOf: asOf, PieceLine: pieceLine(s, i), Filament: p.Filament, Stands: bench.Stands, Steps: bench.Steps, Care: bench.Care,
		Joins: []Join{}, Next: []Act{}, Kept: []string{},
	}
	if f, ok := r.Design.Shop.Filament(p.Filament); ok && f.Name != "" {
		out.Filament = f.Name
	}
	for _, j := range bench.Joins {
		out.Joins = append(out.Joins, Join(j))
	}
	out.May, out.Release = mayLog(r, p)
	if out.Label != "" {
		for _, name := range [...]string{"piece.3mf", "sizes.json", "settings.json"} {
			if file := build.MadeDir + "/" + out.Label + "/" + name; d.folder.HasFile(file) {
				out.Kept = append(out.Kept, file)
			}
		}
	}
	if start, err := time.Parse(time.DateOnly, r.Calendar.Start); err == nil {
		for _, a := range calendar.Acts(r.Calendar) {
			if a.Task.Piece == id && len(out.Next) < mostNext {
				out.Next = append(out.Next, actOf(r, start, a))
			}
		}
	}
	out.Events = logLines(s.loaded.Events, s, in.system(), func(e model.Event) bool { return e.Piece == id })
	var about finding.List
	for _, f := range r.Findings {
		if f.Severity > finding.Note && f.Part == p.ID.Part {
			about.Add(f)
		}
	}
	out.Worst = findingsOf(s, about, in.system())
	return out, nil
}

// mostNext acts are named on a piece's page.
const mostNext = 5

// mayLog are the kinds of event that a piece takes now, and what stands in the way
// of its release.
func mayLog(r job.Result, p model.Piece) (may []string, obstacle string) {
	may = []string{string(model.Remark), string(model.Photo)}
	err := job.MayRelease(r, p)
	if refused, ok := asRefused(err); ok {
		obstacle = refused.What + ": " + refused.Do
	} else if err == nil && !r.Blocked() {
		may = append(may, string(model.Released))
	}
	if len(job.Provisional(r, p)) == 0 {
		may = append(may, string(model.Started), string(model.Printed), string(model.Failed))
	}
	return may, obstacle
}
