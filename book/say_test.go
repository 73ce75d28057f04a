package book_test

import (
	"testing"

	"scalewright/book"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

func TestHeading(t *testing.T) {
	blocker := finding.New("outline-too-short", finding.Place{}, nil)
	caution := finding.New("nobody-works", finding.Place{}, nil)
	note := finding.New("printer-not-measured", finding.Place{}, finding.Args{
		"printer": finding.Name("Heron"), "half": finding.Fine(0.1), "across": finding.Size(100),
	})
	for _, c := range []struct {
		name  string
		found finding.List
		want  string
	}{
		{"clean", nil, "At 1030 mm it can be made."},
		{"note", finding.List{note}, "At 1030 mm it can be made."},
		{"caution", finding.List{caution, note}, "At 1030 mm it can be made, after one cure."},
		{"cautions", finding.List{caution, caution, caution}, "At 1030 mm it can be made, after three cures."},
		{"blocker", finding.List{blocker, caution}, "At 1030 mm it cannot be made yet."},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := small()
			r.Findings = c.found
			if got := book.Say(r, unit.Metric).Heading; got != c.want {
				t.Errorf("heading %q, want %q", got, c.want)
			}
		})
	}
	empty := job.Result{Findings: finding.List{blocker}}
	if got := book.Say(empty, unit.Metric); got.Heading != "As declared it cannot be made yet." || got.Now != "" {
		t.Errorf("an empty result says %q, %q", got.Heading, got.Now)
	}
}

// What to print now is the verdict's piece, with the printer and time that
// printing gave it.
func TestSayNow(t *testing.T) {
	r := finished(t)
	v := book.Say(r, unit.Metric)
	if (v.Now == "") != (r.Verdict.Tonight == "") {
		t.Errorf("the verdict's piece is %q, the words are %q", r.Verdict.Tonight, v.Now)
	}
	r.Verdict.Tonight = r.Division.Pieces[0].ID.String()
	r.Facts.Made = append(r.Facts.Made[:0:0], model.Made{Piece: r.Verdict.Tonight, Label: "A1"})
	p := r.Prints[0]
	want := "A1, foot, " + unit.Duration(p.Minutes) + " on "
	if got := book.Say(r, unit.Metric).Now; len(got) < len(want) || got[:len(want)] != want {
		t.Errorf("now %q, want it to begin %q", got, want)
	}
}
