package job_test

import (
	"testing"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/job/recipe"
)

func TestDemoTry(t *testing.T) {
	f, err := build.Open("../examples/foyer-rocket")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	in := job.Input{Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks, Outlines: map[string]job.Outline{}, Memo: recipe.NewMemo(recipe.Options{}), Seed: 1}
	for n, o := range l.Outlines {
		in.Outlines[n] = job.Outline{Path: o.Path, DoubtMM: o.DoubtMM}
	}
	r, err := job.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	w := finding.Writer{Locate: l.Locate}
	for _, f := range r.Findings {
		w.Print(t.Output(), f)
	}
	for _, s := range r.Trace.Outline {
		t.Logf("%s %.2f,%.2f -> %.2f,%.2f R %.1f", s.Kind, s.From.Station, s.From.Radius, s.To.Station, s.To.Radius, s.R)
	}
	t.Logf("length %v", r.Trace.Length)
	t.Logf("%+v", r.Verdict)
	for i, p := range r.Division.Pieces {
		t.Logf("%s %v %s %v wall %.2f at %.1f", p.ID, p.Span, p.Printer, r.Prints[i].Minutes, r.Carved[i].Wall, r.Carved[i].WallAt.Station)
	}
}
