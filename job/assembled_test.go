package job_test

import (
	"context"
	"math"

	"scalewright/craft/turning"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/carve"
	"scalewright/unit"
)

// mustAssemble checks what every build that no blocker stops must hold: each
// piece is one closed body inside its printer's volume, its mesh sweeps what its
// loops do where no joint off the axis cuts it, no two pieces overlap, none reaches into the core,
// and no joint binds on the mean. It shares no code with carve or turning's
// booleans.
func mustAssemble(t failer, r job.Result) {
	t.Helper()
	if len(r.Carved) != len(r.Division.Pieces) || len(r.Prints) != len(r.Division.Pieces) {
		t.Fatalf("%d pieces, %d carved, %d judged", len(r.Division.Pieces), len(r.Carved), len(r.Prints))
	}
	seen := map[string]bool{}
	for i, c := range r.Carved {
		piece := r.Division.Pieces[i]
		if id := piece.ID.String(); seen[id] {
			t.Errorf("two pieces are %s", id)
		}
		seen[piece.ID.String()] = true
		if err := c.Solid.Solid(); err != nil {
			t.Errorf("%s: %v", piece.ID, err)
		}
		bodies := 0 // a sealed cavity is a component too, of negative volume
		for _, m := range c.Solid.Components() {
			if m.Volume() > 0 {
				bodies++
			}
		}
		if bodies != 1 {
			t.Errorf("%s is %d bodies", piece.ID, bodies)
		}
		want := swept(c.Loops) * turning.Share(flatsOf(r, piece))
		if !featured(r, piece) && math.Abs(c.Volume-want) > 1e-5*want {
			t.Errorf("%s: mesh holds %v mm³, its loops sweep %v", piece.ID, c.Volume, want)
		}
		box := c.Solid.Transform(r.Prints[i].Placement).Bounds()
		printer, ok := r.Design.Shop.Printer(piece.Printer)
		for k := range box.Min {
			if !ok || box.Min[k] < -rounding || box.Max[k] > float64(printer.Build[k])+rounding {
				t.Errorf("%s lies at %v on %s, which builds %v", piece.ID, box, piece.Printer, printer.Build)
				break
			}
		}
	}
	flatCore := pipeOf(t, r.Design.Core, flatsOf(r, r.Division.Pieces[0]))
	for i, a := range r.Carved {
		for _, b := range r.Carved[:i] {
			if v := shared(t, a.Solid, b.Solid); v > touching {
				t.Errorf("%s and %s overlap by %v mm³", a.Piece, b.Piece, v)
			}
		}
		if v := shared(t, a.Solid, flatCore); v > touching {
			t.Errorf("%s and the core overlap by %v mm³", a.Piece, v)
		}
	}
	for _, f := range r.Fits.Fits {
		if f.Clearance.X < 0 {
			t.Errorf("%s in %s binds on the mean: %v", f.Male, f.Female, f.Clearance)
		}
	}
}

// flatsOf is how many flats the circles of a piece have: those of the body are
// alike.
func flatsOf(r job.Result, piece model.Piece) int {
	widest := 2 * r.Design.Outline.MaxRadius()
	for _, p := range r.Design.Parts {
		if p.ID == piece.ID.Part && !p.OnBody() {
			widest = 2 * p.Outline.MaxRadius()
		}
	}
	if widest == 0 {
		widest = 100
	}
	return carve.Segments(unit.Length(widest))
}

// featured reports whether a piece is not what its loops sweep: not turned, or cut
// by what joins it off the axis.
func featured(r job.Result, p model.Piece) bool {
	if p.ID.Kind == model.Slice || p.ID.Kind == model.Panel {
		return true
	}
	for _, m := range r.Design.Mounts {
		if m.Guest == p.ID.Part {
			return true
		}
	}
	for _, t := range r.Division.Tabs {
		if t.Host == p.ID {
			return true
		}
	}
	for _, h := range r.Division.Holds {
		if h.Host == p.ID {
			return true
		}
	}
	for _, way := range r.Places.Ways {
		for _, pass := range way.Passes {
			if pass.Piece == p.ID {
				return true
			}
		}
	}
	for _, w := range r.Division.Windows {
		if w.Piece == p.ID {
			return true
		}
	}
	return false
}

// failer is what both testing.T and rapid.T can do.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// A piece that was moved to its place in the build and back may stand off by so
// much, mm.
const rounding = 1e-6

// Loops lie on a grid of 1e-6 mm; faces that share an edge a metre long, on a body
// some decimetres round, may overlap by that much, mm³.
const touching = 1

// swept is what loops sweep in one turn: Pappus's theorem, V = π∮r²dz.
func swept(loops [][]model.Point) float64 {
	v := 0.0
	for _, loop := range loops {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			v += math.Pi * (q.Station - p.Station) * (p.Radius*p.Radius + p.Radius*q.Radius + q.Radius*q.Radius) / 3
		}
	}
	return v
}

// pipeOf is the wall of the core's pipe at its largest mean diameter, its flats
// inside the circle as those of everything turned.
func pipeOf(t failer, core *model.Core, flats int) solid.Mesh {
	if core == nil {
		return solid.Mesh{}
	}
	out, in := float64(core.Stock.ODMost)/2, float64(core.Stock.OD/2-core.Stock.Wall)
	from, to := float64(core.Span.From), float64(core.Span.To)
	pipe, err := solid.Turn([]solid.PointRZ{{R: in, Z: from}, {R: out, Z: from}, {R: out, Z: to}, {R: in, Z: to}}, flats)
	if err != nil {
		t.Fatalf("pipe: %v", err)
	}
	return pipe
}

// shared is the volume that is in both of two solids.
func shared(t failer, a, b solid.Mesh) float64 {
	both, err := solid.Kernel{}.Intersect(context.Background(), a, b)
	if err != nil {
		t.Fatalf("intersect: %v", err)
	}
	return both.Volume()
}
