package job_test

import (
	"testing"

	"scalewright/finding"
	"scalewright/job"
)

func TestRun(t *testing.T) {
	r, err := job.Run(t.Context(), foyer())
	if err != nil {
		t.Fatal(err)
	}
	w := finding.Writer{}
	for _, f := range r.Findings {
		t.Log(f.Severity, f.Code, w.Message(f))
	}
	for i, p := range r.Division.Pieces {
		c, pr := r.Carved[i], r.Prints[i]
		t.Logf("%-22s %-16s %6.1f-%6.1f on %s %s wall %.2f at %.0f vol %.0f cm3 %d tris, %v min (counted %v) %v g overhang %.0f", p.ID, p.Name, p.Span.From, p.Span.To, p.Printer, p.Direction, c.Wall, c.WallAt.Station, c.Volume/1000, len(c.Solid.Triangles), pr.Minutes, p.Counted, int(pr.Grams), pr.Overhang)
	}
	for _, s := range r.Division.Seams {
		t.Logf("%+v", s)
	}
	for _, f := range r.Fits.Fits {
		t.Logf("%s: %s in %s: %.2f in %.2f, clearance %.2f ± %.2f bind %.3f", f.Seam, f.Male, f.Female, f.MaleSize.Nominal, f.Bore.Nominal, f.Clearance.X, f.Clearance.U, f.Bind)
	}
	t.Logf("%+v", r.Verdict)
	for _, task := range r.Calendar.Tasks {
		t.Logf("%+v", task)
	}
	t.Log(r.Reruns)
}
