package build

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
	"strconv"
	"time"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// logLine is an event as it stands in log.jsonl.
type logLine struct {
	Number   int             `json:"number"`
	Kind     model.EventKind `json:"kind"`
	Time     string          `json:"time"`
	Piece    string          `json:"piece,omitempty"`
	Label    string          `json:"label,omitempty"`
	Task     string          `json:"task,omitempty"`
	Printer  string          `json:"printer,omitempty"`
	Revision int             `json:"revision,omitempty"`
	Minutes  int             `json:"minutes,omitempty"`
	Grams    float64         `json:"grams,omitempty"`
	What     string          `json:"what,omitempty"`
	Asked    float64         `json:"asked_mm,omitempty"`
	Came     float64         `json:"came_mm,omitempty"`
	Money    float64         `json:"money,omitempty"`
	Text     string          `json:"text,omitempty"`
	Of       int             `json:"of,omitempty"`
	More     bool            `json:"more,omitempty"` // the next line was written with this one
}

var eventKinds = []model.EventKind{
	model.Released, model.Started, model.Printed, model.Failed, model.Measured,
	model.Done, model.Spent, model.Photo, model.Remark, model.Withdrawn,
}

func lineOf(e model.Event) logLine {
	return logLine{
		Number: e.Number, Kind: e.Kind, Time: e.Time, Piece: e.Piece, Label: e.Label, Task: e.Task,
		Printer: e.Printer, Revision: e.Revision, Minutes: int(e.Minutes), Grams: float64(e.Grams),
		What: e.What, Asked: e.Asked, Came: e.Came, Money: e.Money, Text: e.Text, Of: e.Of,
	}
}

func (l logLine) event() model.Event {
	return model.Event{
		Number: l.Number, Kind: l.Kind, Time: l.Time, Piece: l.Piece, Label: l.Label, Task: l.Task,
		Printer: l.Printer, Revision: l.Revision, Minutes: unit.Minutes(l.Minutes), Grams: unit.Mass(l.Grams),
		What: l.What, Asked: l.Asked, Came: l.Came, Money: l.Money, Text: l.Text, Of: l.Of, At: logPlace(l.Number),
	}
}

func logPlace(line int) finding.Place { return finding.Place{File: LogFile, Path: strconv.Itoa(line)} }

// readLog is the events of a log, and what is wrong with it. Events written
// together count together: half a batch at the end is torn as half a line is.
func readLog(text []byte) (events []model.Event, c chain, found finding.List) {
	c = readChain(text)
	batch := 0 // events of the batch that is not complete yet
	for i, body := range c.bodies {
		var line logLine
		decoder := json.NewDecoder(bytes.NewReader(body))
		decoder.DisallowUnknownFields()
		if err := decoder.Decode(&line); err != nil || line.Number != i+1 || !slices.Contains(eventKinds, line.Kind) {
			found.Add(finding.New("log-unknown", logPlace(i+1), finding.Args{"line": finding.Count(i + 1)}))
			return events, c, found
		}
		events = append(events, line.event())
		batch++
		if !line.More {
			batch = 0
		}
	}
	if c.bad > 0 {
		found.Add(finding.New("log-damaged", logPlace(c.bad), finding.Args{"line": finding.Count(c.bad)}))
		return events, c, found
	}
	if batch > 0 {
		keep := len(events) - batch
		events, c.torn = events[:keep], true
		c = c.first(keep)
	}
	if c.torn {
		found.Add(finding.New("log-torn", logPlace(len(events)+1), finding.Args{"line": finding.Count(len(events) + 1)}))
	}
	return events, c, found
}

// first is the chain cut back to its first n lines, torn behind them.
func (c chain) first(n int) chain {
	out := chain{torn: true}
	for i, body := range c.bodies[:n] {
		out.sum = chainSum(out.sum, body)
		out.bodies, out.ends = append(out.bodies, body), append(out.ends, c.ends[i])
	}
	return out
}

// logDocument lets places of the log be found: the path is the line's number.
func logDocument(text []byte) *document {
	d := newDocument(LogFile, string(text))
	for i, at := range d.lines {
		d.remember(strconv.Itoa(i+1), at)
	}
	return d
}

func (l *loader) log() error {
	text, events, c, found, err := l.folder.fullLog()
	if err != nil || text == nil && len(found) == 0 {
		return err
	}
	if c.torn {
		// Perhaps another program is just writing: look again when it is not.
		// Without leave to lock, the note is all there is to say.
		_ = l.folder.locked("reading the log", func() error {
			text, events, _, found, err = l.folder.fullLog()
			return err
		})
	}
	l.out.Events, l.docs[LogFile] = events, logDocument(text)
	l.found.Add(found...)
	return nil
}

// Append writes events to the log, all or none, and returns the number of the
// last. Numbers and places of the events given are not looked at; their time is
// the caller's.
func (f *Folder) Append(events ...model.Event) (number int, err error) {
	err = f.locked("writing the log", func() error {
		number, err = f.append(events)
		return err
	})
	return number, err
}

func checkEvent(e model.Event) error {
	if !slices.Contains(eventKinds, e.Kind) {
		return fmt.Errorf("log: %q is not a kind of event", e.Kind)
	}
	if _, err := time.Parse(time.RFC3339, e.Time); err != nil {
		return fmt.Errorf("log: the time of an event must be like 2026-11-30T18:30:00+01:00: %w", err)
	}
	return nil
}

// append does the work under the lock.
func (f *Folder) append(events []model.Event) (int, error) {
	text, _, c, found, err := f.fullLog()
	if err != nil {
		return 0, err
	}
	if found.Blocked() {
		return 0, unreadable(found, documents{LogFile: logDocument(text)})
	}
	var lines []byte
	number, sum := len(c.bodies), c.sum
	for i, e := range events {
		if err := checkEvent(e); err != nil {
			return 0, err
		}
		number++
		line := lineOf(e)
		line.Number, line.More = number, i < len(events)-1
		body, err := json.Marshal(line)
		if err != nil {
			return 0, fmt.Errorf("log: %w", err)
		}
		var sealed []byte
		sealed, sum = seal(sum, body)
		lines = append(lines, sealed...)
	}
	if len(lines) == 0 {
		return number, nil
	}
	if err := f.appendLines(LogFile, c.whole(), lines); err != nil {
		return 0, err
	}
	return number, f.writeTail(number, sum)
}

// appendLines cuts a torn end off, writes the lines behind the whole ones and
// forces them to disk.
func (f *Folder) appendLines(name string, whole int, lines []byte) error {
	isNew := !f.has(name)
	file, err := f.root.OpenFile(name, os.O_WRONLY|os.O_CREATE, 0o666)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	err = file.Truncate(int64(whole))
	if err == nil {
		_, err = file.WriteAt(lines, int64(whole))
	}
	if err != nil {
		err = errors.Join(err, file.Truncate(int64(whole))) // nothing half-written stays
	}
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if isNew {
		return f.syncDir(".")
	}
	return nil
}
