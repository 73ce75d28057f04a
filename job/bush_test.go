package job_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// The demo's post stands in two printed bushes: where it enters the core and where
// it ends, on the meshes inside the core at its narrowest and round the post at its
// widest, with the play that fit says, and in the core before anything else is.
func TestPostStandsInBushes(t *testing.T) {
	t.Parallel()
	in := demo(t)
	for i := range in.Declared.Shop.Printers {
		in.Declared.Shop.Printers[i].Layer = 3
	}
	r := mustRun(t, in)
	core, stand := r.Design.Core, r.Design.Stand
	tube := func(bore, outer float64) solid.Mesh {
		m, err := solid.Tube(solid.TubeSize{Bore: bore / 2, Outer: outer / 2, Low: 0, High: 1200, Segments: 720})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	pipe := tube(float64(core.Stock.OD-core.Stock.Oval/2-2*1.06*core.Stock.Wall), float64(core.Stock.OD))
	post := tube(0, float64(stand.Post.Widest()))
	var spans []model.Span
	for i, p := range r.Division.Pieces {
		if p.ID.Kind != model.Bush {
			continue
		}
		spans = append(spans, p.Span)
		m := r.Carved[i].Solid
		if v := shared(t, m, post) + shared(t, m, pipe); v > 0 {
			t.Errorf("%s shares %v mm³ with the post and the core", p.Name, v)
		}
		fits := r.Fits.Of(p.ID.String())
		if len(fits) != 2 || fits[0].Female != "core" || fits[1].Male != "post" {
			t.Fatalf("%s fits %+v", p.Name, fits)
		}
		want := math.Pi / 4 * (math.Pow(float64(fits[0].MaleSize.Nominal), 2) - math.Pow(float64(fits[1].Bore.Nominal), 2)) * float64(p.Span.Length())
		for _, way := range r.Places.Ways[:1] { // all take the same hole
			for _, pass := range way.Passes {
				if pass.Piece == p.ID {
					want -= math.Pi / 4 * float64(pass.Across*pass.Across*p.Span.Length())
				}
			}
		}
		if math.Abs(r.Carved[i].Volume-want) > 2e-3*want {
			t.Errorf("%s holds %v mm³, a ring of its fits %v", p.Name, r.Carved[i].Volume, want)
		}
		for _, f := range fits {
			if f.Bind > 0.03 || f.Clearance.X < 0.15 {
				t.Errorf("%s in %s: clearance %v, binds %v", f.Male, f.Female, f.Clearance, f.Bind)
			}
		}
		seat := slices.IndexFunc(r.Assembly.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == model.SeatTask(p.ID) })
		put := slices.IndexFunc(r.Assembly.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == model.FitCore })
		if seat < 0 || put < 0 || seat > put {
			t.Errorf("%s goes in at step %d, the core at %d", p.Name, seat, put)
		}
	}
	// The bell's collar reaches 2 mm into the core's foot, to 92 mm.
	want := []model.Span{{From: 93, To: 113}, {From: core.Span.From + stand.Engage - 20, To: core.Span.From + stand.Engage}}
	if !slices.Equal(spans, want) {
		t.Errorf("bushes at %v, want %v", spans, want)
	}
	if rings := r.Structure.Stand.Rings; rings.Stations != [2]unit.Length{core.Span.From, want[1].To} || rings.Bore == 0 {
		t.Errorf("structure counts on %+v", rings)
	}
	if slices.Contains(codes(r.Findings), "note post-rings") {
		t.Error("rings are asked for although bushes are printed")
	}
}
