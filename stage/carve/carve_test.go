package carve_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"scalewright/craft/turning"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/carve"
	"scalewright/stock"
	"scalewright/unit"
)

const flats = 96

// shell is a tube of radius 50 and wall 3 from 100 to 200, foot down.
func shell() carve.Input {
	line := func(r float64) []model.Point {
		return []model.Point{{Station: 100, Radius: r}, {Station: 200, Radius: r}}
	}
	id := model.PieceID{Kind: model.Shell, Part: "a", From: "foot", To: "nose"}
	return carve.Input{
		Piece: model.Piece{ID: id, Name: "a", Span: model.Span{From: 100, To: 200}, Direction: model.FootDown},
		Part:  model.Part{ID: "a", Wall: 3, At: finding.Place{File: "build.yaml", Path: "parts.a"}},
		Raw:   model.Raw{Part: "a", Outer: line(50), FootDown: line(47), NoseDown: line(47)}, Segments: flats,
	}
}

var other = model.PieceID{Kind: model.Shell, Part: "b", From: "foot", To: "nose"}

// above and below join the shell to a neighbour at its nose and at its foot.
func above(in carve.Input, kind model.JointKind, male unit.Length) carve.Input {
	seam := model.Seam{ID: "s", Station: 200, Kind: kind, Below: in.Piece.ID, Above: other, Engage: 10}
	in.Above = &carve.Joint{Seam: seam, Fits: []model.Fit{{Female: in.Piece.ID.String(), MaleSize: model.Size{Nominal: male}, Bore: model.Size{Nominal: male + 0.4}}}}
	return in
}

func below(in carve.Input, kind model.JointKind, bore unit.Length) carve.Input {
	seam := model.Seam{ID: "s", Station: 100, Kind: kind, Below: other, Above: in.Piece.ID, Engage: 10}
	in.Below = &carve.Joint{Seam: seam, Fits: []model.Fit{{Female: in.Piece.ID.String(), Bore: model.Size{Nominal: bore}}}}
	return in
}

func mustCarve(t testing.TB, in carve.Input) model.Carved {
	t.Helper()
	c, found, err := carve.Run(context.Background(), in)
	if err != nil || len(found) != 0 {
		t.Fatalf("Run: %v, %v", found, err)
	}
	if err := c.Solid.Solid(); err != nil {
		t.Fatal(err)
	}
	return c
}

// radii are where the piece begins and ends, along the radius, at a station.
func radii(t testing.TB, c model.Carved, z float64) []float64 {
	t.Helper()
	layers, err := solid.Sections(c.Solid, []float64{z})
	if err != nil {
		t.Fatal(err)
	}
	var all []float64
	for _, loop := range layers[0].Loops {
		corner := 0.0 // sections of slopes have points on the flats too
		for _, p := range loop {
			corner = max(corner, math.Hypot(p[0], p[1]))
		}
		all = append(all, corner)
	}
	slices.Sort(all)
	return all
}

func want(t *testing.T, what string, c model.Carved, z float64, radii_ ...float64) {
	t.Helper()
	got := radii(t, c, z)
	if !slices.EqualFunc(got, radii_, func(a, b float64) bool { return math.Abs(a-b) < 1e-5 }) {
		t.Errorf("%s: at %v radii %v, want %v", what, z, got, radii_)
	}
}

func ExampleRun() {
	c := mustCarve(&testing.B{}, above(shell(), model.Spigot, 93.6))
	fmt.Printf("%v to %v mm, %v across, wall %.1f, one solid of %d loop\n", c.Reach.From, c.Reach.To, c.Diameter, c.Wall, len(c.Loops))
	// Output: 100 to 210 mm, 100 across, wall 3.0, one solid of 1 loop
}

func TestPlainShell(t *testing.T) {
	c := mustCarve(t, shell())
	// Pappus, and the share of it that flats keep.
	if want := math.Pi * (50*50 - 47*47) * 100 * turning.Share(flats); math.Abs(c.Volume-want) > 1e-6*want {
		t.Errorf("volume %v, want %v", c.Volume, want)
	}
}

func TestSpigotAndItsRoot(t *testing.T) {
	c := mustCarve(t, above(shell(), model.Spigot, 93.6))
	want(t, "spigot", c, 205, 43.8, 46.8)
	want(t, "tip", c, 209.6, 43.8, 46.4) // 0.4 below the tip a lead-in of 0.8 takes 0.4
	want(t, "root", c, 197, 43.8, 50)
	want(t, "slope of the root", c, 193, 44.8, 50) // 45°, a millimetre below
	want(t, "below it", c, 190, 47, 50)
}

func TestSocketAndItsLand(t *testing.T) {
	c := mustCarve(t, below(shell(), model.Spigot, 94))
	want(t, "socket as wide as the cavity", c, 105, 47, 50)
	want(t, "mouth", c, 100.4, 47.4, 50)
	c = mustCarve(t, below(shell(), model.Spigot, 90))
	want(t, "a narrower socket has a land", c, 105, 45, 50)
	want(t, "to the end gap", c, 110.4, 45, 50)
	want(t, "and no further", c, 110.6, 47, 50)
	in := below(shell(), model.Spigot, 90)
	in.Piece.Direction = model.NoseDown // the land hangs: a slope carries it
	c = mustCarve(t, in)
	want(t, "nose down, land", c, 105, 45, 50)
	want(t, "nose down, slope", c, 111.5, 46, 50)
}

// Far from the shell a land is a tube of the wall, where the shell comes near
// enough to hold it; else it is solid.
func TestLandFarFromTheShell(t *testing.T) {
	in := below(shell(), model.Spigot, 60)
	in.Raw.FootDown = []model.Point{{Station: 100, Radius: 30}, {Station: 103, Radius: 30}, {Station: 103, Radius: 47}, {Station: 200, Radius: 47}}
	c := mustCarve(t, in)
	want(t, "held by a floor", c, 108, 30, 33, 47, 50)
	in.Raw.FootDown = []model.Point{{Station: 100, Radius: 47}, {Station: 200, Radius: 47}}
	c = mustCarve(t, in)
	want(t, "held by nothing", c, 108, 30, 50)
}

func TestCollarAndItsSockets(t *testing.T) {
	c := mustCarve(t, above(shell(), model.Collar, 93.6))
	if c.Reach.To != 200 {
		t.Errorf("reaches to %v, want 200", c.Reach.To)
	}
	want(t, "socket", c, 195, 47, 50)
	want(t, "mouth", c, 199.6, 47.4, 50)

	in := above(shell(), model.Collar, 93.6)
	in.Piece.ID = model.PieceID{Kind: model.CollarRing, Part: "a", From: "foot"}
	in.Piece.Span = model.Span{From: 190, To: 210}
	c = mustCarve(t, in)
	want(t, "collar", c, 200, 43.8, 46.8)
	want(t, "its lower end", c, 190.4, 43.8, 46.4)
	want(t, "its upper end", c, 209.6, 43.8, 46.4)
}

func TestButtJointsCutNothing(t *testing.T) {
	plain := mustCarve(t, shell())
	butt := mustCarve(t, below(above(shell(), model.Butt, 0), model.Butt, 0))
	if plain.Volume != butt.Volume {
		t.Errorf("volume %v, want %v", butt.Volume, plain.Volume)
	}
}

// The flats of a bore touch its circle from outside: r / cos(π/n).
func TestCore(t *testing.T) {
	pipe, _ := stock.FindPipe("pressure-32")
	bore := 16.5 / math.Cos(math.Pi/flats)
	in := shell()
	in.Core = &model.Core{Stock: pipe, Span: model.Span{From: 120, To: 180}, Hold: model.Bored}
	in.OnCore = &model.Fit{Male: "core", Female: in.Piece.ID.String(), Bore: model.Size{Nominal: 33}}
	c := mustCarve(t, in)
	want(t, "below the core", c, 110, 47, 50)
	want(t, "along the core", c, 150, bore, 50)
	want(t, "above the core", c, 190, 47, 50)

	in = shell()
	in.Core = &model.Core{Stock: pipe, Span: model.Span{From: 120, To: 180}, Hold: model.Spaced}
	seat := model.Seat{Ring: model.PieceID{Kind: model.CoreRing, Part: "a", From: "foot"}, Host: in.Piece.ID, Span: model.Span{From: 120, To: 126}}
	in.Seats = []carve.Seat{{Seat: seat, Fit: model.Fit{MaleSize: model.Size{Nominal: 93.6}, Bore: model.Size{Nominal: 95}}}}
	c = mustCarve(t, in)
	want(t, "seat of a ring", c, 123, 47.5, 50)
	want(t, "past its end gap", c, 126.6, 47, 50)

	in.Piece.ID, in.Piece.Span = seat.Ring, seat.Span
	in.OnCore = &model.Fit{Male: "core", Female: seat.Ring.String(), Bore: model.Size{Nominal: 33}}
	c = mustCarve(t, in)
	want(t, "ring", c, 123, bore, 46.8)
	if math.Abs(float64(c.Wall)-6) > 1e-9 {
		t.Errorf("a ring 6 thick has a wall of %v", c.Wall)
	}
}

// A root that would fill the socket below it is cut back by it.
func TestRootLeavesTheSocketFree(t *testing.T) {
	in := below(above(shell(), model.Spigot, 20), model.Spigot, 94)
	in.Piece.Span.To, in.Above.Seam.Station = 130, 130
	in.Raw.Outer[1].Station, in.Raw.FootDown[1].Station = 130, 130
	c := mustCarve(t, in)
	for _, z := range []float64{101, 105, 110.4} {
		if r := radii(t, c, z); r[0] < 47-1e-5 {
			t.Errorf("at %v the socket of radius 47 is filled to %v", z, r[0])
		}
	}
}

// A lead-in takes at most a third of a thin wall, and thins no wall that is
// judged.
func TestLeadInsOfThinWalls(t *testing.T) {
	in := above(shell(), model.Spigot, 93.6)
	in.Part.Wall = 0.9
	c := mustCarve(t, in)
	want(t, "just under the tip", c, 210-1e-3, 45.9, 46.501)
	if math.Abs(float64(c.Wall)-0.9) > 1e-6 {
		t.Errorf("wall %v, want 0.9", c.Wall)
	}
}

func TestNotOnePiece(t *testing.T) {
	in := shell()
	in.Raw.Outer = []model.Point{{Station: 100, Radius: 50}, {Station: 150, Radius: 0}, {Station: 200, Radius: 50}}
	in.Raw.FootDown = nil
	in.Raw.FootDown = []model.Point{{Station: 100}, {Station: 200}}
	_, found, err := carve.Run(context.Background(), in)
	if err != nil || len(found) != 1 || found[0].Code != "not-one-piece" || found[0].Args["count"] != finding.Count(2) {
		t.Errorf("found %+v, %v", found, err)
	}
	in.Raw.Outer = []model.Point{{Station: 100}, {Station: 200}}
	if _, found, err = carve.Run(context.Background(), in); err != nil || len(found) != 1 || found[0].Args["count"] != finding.Count(0) {
		t.Errorf("found %+v, %v", found, err)
	}
}

// Flats stay within 0.02 mm of the widest circle: n ≥ π / acos(1 - s/r).
func TestSegments(t *testing.T) {
	for _, widest := range []unit.Length{1, 20, 126, 252, 500, 2000} {
		n := carve.Segments(widest)
		if sag := float64(widest) / 2 * (1 - math.Cos(math.Pi/float64(n))); n%4 != 0 || sag > 0.02 {
			t.Errorf("%v across: %d flats, sagitta %v", widest, n, sag)
		}
		if n > 8 {
			if sag := float64(widest) / 2 * (1 - math.Cos(math.Pi/float64(n-4))); sag <= 0.02 {
				t.Errorf("%v across: %d flats are more than needed", widest, n)
			}
		}
	}
}
