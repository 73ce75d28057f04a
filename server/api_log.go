package server

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"scalewright/book"
	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

func logList(_ context.Context, d *desk, in seenIn) (LogList, error) {
	d.used()
	d.mu.Lock()
	events, shown := d.loaded.Events, d.shown
	d.mu.Unlock()
	return LogList{logLines(events, shown, in.system(), nil)}, nil
}

// logLines are events in words, the latest first.
func logLines(events []model.Event, s *shown, u unit.System, about func(model.Event) bool) []LogLine {
	back := map[int]bool{}
	for _, e := range events {
		if e.Kind == model.Withdrawn {
			back[e.Of] = true
		}
	}
	out := []LogLine{}
	for _, e := range slices.Backward(events) {
		if about != nil && !about(e) {
			continue
		}
		out = append(out, LogLine{
			Number: e.Number, Kind: string(e.Kind), Time: e.Time, Says: eventWords(e, s, u), Piece: e.Piece, Label: e.Label, Task: e.Task,
			Withdrawn: back[e.Number], May: !back[e.Number] && e.Kind != model.Released && e.Kind != model.Withdrawn,
		})
	}
	return out
}

// eventWords say what happened.
func eventWords(e model.Event, s *shown, u unit.System) string {
	what := e.Label
	if what == "" {
		what = e.Piece
	}
	var words string
	switch e.Kind {
	case model.Released:
		words = fmt.Sprintf("%s released as %s", e.Piece, e.Label)
	case model.Started:
		words = what + " started"
	case model.Printed:
		words = what + " printed"
	case model.Failed:
		words = what + " failed"
	case model.Measured:
		words = fmt.Sprintf("%s measured: %s", e.What, u.Fine(unit.Length(e.Came)))
		if e.Asked > 0 {
			words = fmt.Sprintf("%s, %s: %s for %s", e.Printer, e.What, u.Fine(unit.Length(e.Came)), u.Fine(unit.Length(e.Asked)))
		}
	case model.Done:
		words = "done: " + e.Task
	case model.Spent:
		currency := ""
		if s != nil {
			currency = s.result.Design.Shop.Currency
		}
		words = "spent " + book.Money(e.Money, currency)
	case model.Photo:
		words = "photograph " + e.Text
	case model.Remark:
		words = "note"
		if what != "" {
			words = "note on " + what
		}
	case model.Withdrawn:
		words = fmt.Sprintf("event %d taken back", e.Of)
	}
	if e.Minutes > 0 {
		words += ", " + unit.Duration(e.Minutes)
	}
	if e.Grams > 0 {
		words += ", " + book.Mass(e.Grams)
	}
	if e.Text != "" && e.Kind != model.Photo {
		words += ": " + e.Text
	}
	return words
}

type logIn struct {
	OnBuild
	Body LogEntry
}

// record writes what happened into the log. What it concerns is looked up in the
// newest result, as the command line does.
func (s *Server) record(ctx context.Context, d *desk, in logIn) (Logged, error) {
	e := in.Body
	if _, err := time.Parse(time.RFC3339, e.Time); err != nil {
		return Logged{}, badRequest(fmt.Sprintf("%q is not a time", e.Time), "write it like 2026-12-01T18:30:00+01:00")
	}
	if done, ok := d.loggedBefore(e); ok {
		return done, nil
	}
	now, _, err := d.see(ctx, throughAll)
	if err != nil {
		return Logged{}, err
	}
	var out Logged
	if e.Kind == string(model.Released) {
		out, err = d.release(ctx, e)
	} else {
		out, err = d.append(now, e)
	}
	if err != nil {
		return Logged{}, err
	}
	d.settled(ctx, logWait) // so that what is asked next knows of it
	out.AsOf = d.asItStands()
	return out, nil
}

// logWait is how long the answer to an entry waits for what follows from it.
const logWait = 20 * time.Second

// append writes one entry into the log.
func (d *desk) append(now *shown, e LogEntry) (Logged, error) {
	event, err := d.event(now, e)
	if err != nil {
		return Logged{}, err
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	if done, ok := d.loggedBefore(e); ok { // both came at once
		return done, nil
	}
	number, err := d.folder.Append(event)
	if err != nil {
		return Logged{}, err
	}
	d.read("log", "what was logged")
	return Logged{Number: number}, nil
}

// asItStands is the version of the files, derived or not.
func (d *desk) asItStands() AsOf {
	d.mu.Lock()
	defer d.mu.Unlock()
	return AsOf{Version: d.version, Revision: d.loaded.Revision, State: d.state}
}

// loggedBefore finds an entry that a phone sent again, because it never heard that
// the first came through.
func (d *desk) loggedBefore(e LogEntry) (Logged, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, old := range d.loaded.Events {
		about := e.Piece == "" || strings.EqualFold(old.Label, e.Piece) || old.Piece == e.Piece
		if string(old.Kind) == e.Kind && old.Time == e.Time && old.Task == e.Task && about && (old.Text == e.Text || e.Text == "") {
			return Logged{Number: old.Number, Label: old.Label, Again: true, AsOf: AsOf{Version: d.version, Revision: d.loaded.Revision, State: d.state}}, true
		}
	}
	return Logged{}, false
}

// event is an entry as the log takes it, checked against the build.
func (d *desk) event(now *shown, e LogEntry) (model.Event, error) {
	out := model.Event{Kind: model.EventKind(e.Kind), Time: e.Time, Text: e.Text, Minutes: unit.Minutes(e.Minutes), Grams: unit.Mass(e.Grams)}
	if e.Piece != "" {
		i := pieceAt(now.result, e.Piece)
		if i < 0 {
			return out, notFound(fmt.Sprintf("there is no piece %q", e.Piece), "the list of pieces has them")
		}
		p := now.result.Division.Pieces[i]
		if out.Kind != model.Remark && out.Kind != model.Photo && len(job.Provisional(now.result, p)) > 0 {
			return out, badRequest(p.Name+" lies at a cut that is only computed and may still move", "release the piece first")
		}
		out.Piece, out.Label = p.ID.String(), book.Label(now.result, p.ID.String())
		if i < len(now.result.Prints) {
			out.Printer = now.result.Prints[i].Printer
		}
	}
	switch out.Kind {
	case model.Started, model.Printed, model.Failed:
		if out.Piece == "" {
			return out, badRequest("it does not say which piece", "name the piece")
		}
	case model.Done:
		if !slices.ContainsFunc(now.result.Calendar.Tasks, func(t taskOfPlan) bool { return t.ID == e.Task }) {
			return out, badRequest(fmt.Sprintf("no work %q is left to do", e.Task), "today's list has what is")
		}
		out.Task = e.Task
	case model.Measured:
		return d.measured(now, out, e)
	case model.Spent:
		out.Money = e.Money
	case model.Photo:
		if !photoName.MatchString(e.Text) || !d.folder.HasFile(e.Text) {
			return out, notFound(fmt.Sprintf("there is no photograph %q", e.Text), "send it first")
		}
	case model.Remark:
		if strings.TrimSpace(e.Text) == "" {
			return out, badRequest("the note is empty", "write something")
		}
	case model.Withdrawn:
		events := now.loaded.Events
		if e.Of < 1 || e.Of > len(events) {
			return out, badRequest(fmt.Sprintf("the log has no event %d", e.Of), "the log numbers them")
		}
		if k := events[e.Of-1].Kind; k == model.Released || k == model.Withdrawn {
			return out, badRequest("that event is not taken back: what is made is a fact", "log it as failed if it cannot be used")
		}
		out.Of = e.Of
	}
	return out, nil
}

// measured reads a diameter that was measured, by the rules of the command line.
func (d *desk) measured(now *shown, out model.Event, e LogEntry) (model.Event, error) {
	var core string
	if c := now.loaded.Declared.Core; c != nil {
		core = c.Stock
	}
	if e.Printer != "" {
		out.Printer = e.Printer
	}
	err := job.Reading(&out, now.loaded.Declared.Shop, core, e.What, e.Asked, e.Came)
	if refused, ok := asRefused(err); ok {
		return out, badRequest(refused.What, refused.Do)
	}
	return out, err
}

// release keeps a piece for ever. Its computed cuts are accepted first, and the
// build derived anew with them.
func (d *desk) release(ctx context.Context, e LogEntry) (Logged, error) {
	d.writing.Lock()
	defer d.writing.Unlock()
	if done, ok := d.loggedBefore(e); ok {
		return done, nil
	}
	d.refresh()
	d.mu.Lock()
	loaded, unread := d.loaded, d.unread
	d.mu.Unlock()
	if unread != nil {
		return Logged{}, unread
	}
	result, err := runJob(ctx, d.inputOf(loaded)) // what the files say now, from the memo
	if err != nil {
		return Logged{}, err
	}
	if result.Blocked() {
		return Logged{}, badRequest("a blocker stands in the way of any release", "the findings say which")
	}
	at := pieceAt(result, e.Piece)
	if at < 0 {
		return Logged{}, notFound(fmt.Sprintf("there is no piece %q", e.Piece), "the list of pieces has them")
	}
	piece := result.Division.Pieces[at]
	if err := job.MayRelease(result, piece); err != nil {
		if refused, ok := asRefused(err); ok {
			return Logged{}, badRequest(refused.What, refused.Do)
		}
		return Logged{}, err
	}
	if cuts := job.Provisional(result, piece); len(cuts) > 0 {
		if _, _, err := d.folder.AcceptCuts(loaded.Revision, cuts...); err != nil {
			return Logged{}, err
		}
		if loaded, err = d.folder.Load(); err != nil {
			return Logged{}, err
		}
		if result, err = runJob(ctx, d.inputOf(loaded)); err != nil {
			return Logged{}, err
		}
		at = slices.IndexFunc(result.Division.Pieces, func(p model.Piece) bool {
			return p.ID.Kind == piece.ID.Kind && p.ID.Part == piece.ID.Part && p.Span == piece.Span
		})
		if at < 0 {
			return Logged{}, &Problem{Status: http.StatusConflict, What: "the piece is not there any more after its cuts were accepted", Do: "look at the pieces again"}
		}
	}
	kept, err := job.MadeFiles(result, at)
	if err != nil {
		return Logged{}, err
	}
	label, number, err := d.folder.Release(build.Release{
		Seen: loaded.Revision, Piece: result.Division.Pieces[at].ID, Files: kept,
		Event: model.Event{Time: e.Time, Text: e.Text, Printer: result.Prints[at].Printer},
	})
	if err != nil {
		return Logged{}, err
	}
	d.read("release", string(finding.Names(piece.Name))+" released")
	return Logged{Number: number, Label: label}, nil
}
