package job_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"scalewright/craft/turning"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/carve"
	"scalewright/unit"
)

// mustAssemble checks what every build that no blocker stops must hold: each
// piece is one closed body inside its printer's volume, its mesh sweeps what its
// loops do, no two pieces overlap, none reaches into the core, and no joint
// binds on the mean. It shares no code with carve or turning's booleans.
func mustAssemble(t failer, r job.Result) {
	t.Helper()
	if len(r.Carved) != len(r.Division.Pieces) || len(r.Prints) != len(r.Division.Pieces) {
		t.Fatalf("%d pieces, %d carved, %d judged", len(r.Division.Pieces), len(r.Carved), len(r.Prints))
	}
	flats := carve.Segments(unit.Length(2 * r.Design.Outline.MaxRadius()))
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
		want := swept(c.Loops) * turning.Share(flats)
		if math.Abs(c.Volume-want) > 1e-5*want {
			t.Errorf("%s: mesh holds %v mm³, its loops sweep %v", piece.ID, c.Volume, want)
		}
		box := c.Solid.Transform(r.Prints[i].Placement).Bounds()
		printer, ok := r.Design.Shop.Printer(piece.Printer)
		for k := range box.Min {
			if !ok || box.Min[k] < 0 || box.Max[k] > float64(printer.Build[k]) {
				t.Errorf("%s lies at %v on %s, which builds %v", piece.ID, box, piece.Printer, printer.Build)
				break
			}
		}
	}
	for i, a := range r.Carved {
		for _, b := range r.Carved[:i] {
			if area := overlap(a.Loops, b.Loops); area > touching {
				t.Errorf("%s and %s overlap by %v mm² of the half plane", a.Piece, b.Piece, area)
			}
		}
		if area := overlap(a.Loops, pipeOf(r.Design.Core)); area > touching {
			t.Errorf("%s and the core overlap by %v mm²", a.Piece, area)
		}
	}
	for _, f := range r.Fits.Fits {
		if f.Clearance.X < 0 {
			t.Errorf("%s in %s binds on the mean: %v", f.Male, f.Female, f.Clearance)
		}
	}
}

// failer is what both testing.T and rapid.T can do.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// Loops lie on a grid of 1e-6 mm; faces that share an edge a metre long may
// overlap by that much, mm².
const touching = 1e-3

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

// pipeOf is the wall of the core's pipe at its largest mean diameter.
func pipeOf(core *model.Core) [][]model.Point {
	if core == nil {
		return nil
	}
	out, in := float64(core.Stock.ODMost)/2, float64(core.Stock.OD/2-core.Stock.Wall)
	from, to := float64(core.Span.From), float64(core.Span.To)
	return [][]model.Point{{{Station: from, Radius: in}, {Station: from, Radius: out}, {Station: to, Radius: out}, {Station: to, Radius: in}}}
}

// overlap is the area of the half plane that two sets of loops share. It cuts
// the plane at every station where an edge ends or two edges cross; between two
// such stations the middle tells all.
func overlap(a, b [][]model.Point) float64 {
	edges := slices.Concat(edgesOf(a), edgesOf(b))
	var at []float64
	for i, e := range edges {
		at = append(at, e[0].Station, e[1].Station)
		for _, f := range edges[:i] {
			if z, ok := crossing(e, f); ok {
				at = append(at, z)
			}
		}
	}
	slices.Sort(at)
	at = slices.Compact(at)
	area := 0.0
	for i := 1; i < len(at); i++ {
		z := (at[i-1] + at[i]) / 2
		both := 0.0
		as, bs := across(a, z), across(b, z)
		for j := 0; j+1 < len(as); j += 2 {
			for k := 0; k+1 < len(bs); k += 2 {
				both += max(0, min(as[j+1], bs[k+1])-max(as[j], bs[k]))
			}
		}
		area += both * (at[i] - at[i-1])
	}
	return area
}

func edgesOf(loops [][]model.Point) (edges [][2]model.Point) {
	for _, loop := range loops {
		for i, p := range loop {
			if q := loop[(i+1)%len(loop)]; p.Station < q.Station {
				edges = append(edges, [2]model.Point{p, q})
			} else if p.Station > q.Station {
				edges = append(edges, [2]model.Point{q, p})
			}
		}
	}
	return edges
}

func radiusOn(e [2]model.Point, z float64) float64 {
	return e[0].Radius + (e[1].Radius-e[0].Radius)*(z-e[0].Station)/(e[1].Station-e[0].Station)
}

func crossing(e, f [2]model.Point) (float64, bool) {
	z0, z1 := max(e[0].Station, f[0].Station), min(e[1].Station, f[1].Station)
	if z1 <= z0 {
		return 0, false
	}
	d0, d1 := radiusOn(e, z0)-radiusOn(f, z0), radiusOn(e, z1)-radiusOn(f, z1)
	return z0 + (z1-z0)*d0/(d0-d1), d0*d1 < 0
}

// across are the radii where loops cross a station, in pairs of in and out.
func across(loops [][]model.Point, z float64) (radii []float64) {
	for _, e := range edgesOf(loops) {
		if e[0].Station < z && z < e[1].Station {
			radii = append(radii, radiusOn(e, z))
		}
	}
	slices.SortFunc(radii, cmp.Compare[float64])
	return radii
}

func TestOverlapOfKnownShapes(t *testing.T) {
	square := func(z0, z1, r0, r1 float64) [][]model.Point {
		return [][]model.Point{{{Station: z0, Radius: r0}, {Station: z0, Radius: r1}, {Station: z1, Radius: r1}, {Station: z1, Radius: r0}}}
	}
	diamond := [][]model.Point{{{Station: 0, Radius: 10}, {Station: 5, Radius: 15}, {Station: 10, Radius: 10}, {Station: 5, Radius: 5}}}
	for _, c := range []struct {
		name string
		a, b [][]model.Point
		want float64
	}{
		{"apart", square(0, 10, 5, 10), square(10, 20, 5, 10), 0},
		{"half", square(0, 10, 0, 10), square(5, 20, 2, 8), 30},
		{"diamond over its own middle", diamond, square(2.5, 7.5, 0, 20), 37.5},
		{"nothing", diamond, nil, 0},
	} {
		if got := overlap(c.a, c.b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("overlap(%s) = %v, want %v", c.name, got, c.want)
		}
	}
}
