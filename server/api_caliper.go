package server

import (
	"context"
	"fmt"
	"strconv"

	"scalewright/book"
	"scalewright/build"
	calipers "scalewright/stage/readings"
	"scalewright/stage/truing"
)

// CaliperSheet is what readings by caliper say beside the photograph, and what the
// outline would bear.
type CaliperSheet struct {
	AsOf    AsOf          `json:"as_of"`
	Taken   []CaliperLine `json:"taken"`
	Next    string        `json:"next,omitempty" doc:"The reading that would help most; empty: none would help much."`
	Add     Place         `json:"add" doc:"Where the next reading is added; the first one makes the list."`
	First   bool          `json:"first" doc:"There is none yet: add names the list, which is put with one item."`
	Trued   string        `json:"trued,omitempty" doc:"How far the outline trued lies from the one measured."`
	Perhaps []Perhaps     `json:"perhaps" doc:"What may be true of the outline; nothing of it is taken by itself."`
}

// CaliperLine is a reading beside what all else says.
type CaliperLine struct {
	At   Place    `json:"at"`
	Says string   `json:"says"`
	Used bool     `json:"used" doc:"It counts."`
	Drop []Change `json:"drop" doc:"Takes it out."`
}

// Perhaps is a proposal with the edit that takes it.
type Perhaps struct {
	Says string  `json:"says"`
	Edit *Change `json:"edit,omitempty" doc:"absent: it is a length, which nothing trues."`
}

func caliper(ctx context.Context, d *desk, _ OnBuild) (CaliperSheet, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return CaliperSheet{}, err
	}
	r := s.result
	out := CaliperSheet{
		AsOf: asOf, Taken: []CaliperLine{}, Perhaps: []Perhaps{}, Next: book.NextReading(r.Readings.Next, r.Enlarge.Ratio),
	}
	add := appended("reference.readings", len(s.loaded.Declared.Reference.Readings), "")[0]
	out.Add, out.First = add.At, add.Op == "put"
	for i, t := range r.Readings.Taken {
		drop := dropped("reference.readings", i, len(r.Readings.Taken))
		out.Taken = append(out.Taken, CaliperLine{Place{t.Reading.At.File, t.Reading.At.Path}, saysTaken(t), t.Used, drop})
	}
	if n := len(r.Trued.Moved) + len(r.Trued.Edges); n > 0 {
		out.Trued = fmt.Sprintf("Trued: %d of the outline; at full size the surface lies up to %.2f mm from where it was measured", n, float64(r.Trued.Most))
	}
	for i, says := range book.SayProposals(r.Trued) {
		out.Perhaps = append(out.Perhaps, Perhaps{says, taking(r.Trued, i, len(s.loaded.Declared.Reference.True.Segments))})
	}
	return out, nil
}

func saysTaken(t calipers.Taken) string {
	where := fmt.Sprintf("diameter at %.1f", t.Reading.Station)
	if t.Reading.Kind == calipers.Length {
		where = fmt.Sprintf("length from %.1f to %.1f", t.Reading.From, t.Reading.To)
	}
	if t.Seen.X == 0 {
		return where + ": nothing lies there"
	}
	return fmt.Sprintf("%s: read %.2f, all else says %.2f ± %.2f", where, t.Reading.X, t.Seen.X, 2*t.Seen.U)
}

// taking is the edit that takes a proposal, in the order in which they are said.
func taking(r truing.Result, i, declared int) *Change {
	const segments = "reference.trued.segments"
	hold := func(text string) *Change {
		c := appended(segments, declared, text)[0]
		c.Op = "add" // with the keys above it
		return &c
	}
	if i < len(r.Holds) {
		h := r.Holds[i]
		if h.Truth == "symmetric" {
			return &Change{Op: "add", At: Place{build.BuildFile, "reference.trued.symmetric"}, Text: "true"}
		}
		text := fmt.Sprintf("{at: %.1f ref, is: %s", h.Station, h.Truth)
		if h.Truth == "equal" {
			text += fmt.Sprintf(", to: %.1f ref", h.Other)
		}
		return hold(text + "}")
	}
	q := r.Rounds[i-len(r.Holds)]
	if q.What != "diameter" {
		return nil
	}
	return hold(fmt.Sprintf("{at: %.1f ref, is: parallel, across: %s ref}", q.Station, strconv.FormatFloat(q.Round, 'f', -1, 64)))
}
