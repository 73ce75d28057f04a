package testslice_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/testslice"
	"scalewright/unit"
)

const flats = 96

func id(part string) model.PieceID {
	return model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose}
}

// pair is a lower piece from 0 to 100 whose spigot of diameter 93 stands 14 out
// of it, and an upper one from 100 to 220 whose socket takes it.
func pair() testslice.Input {
	turn := func(points ...float64) solid.Mesh {
		var loop []solid.PointRZ
		for i := 0; i < len(points); i += 2 {
			loop = append(loop, solid.PointRZ{R: points[i], Z: points[i+1]})
		}
		m, err := solid.Turn(loop, flats)
		if err != nil {
			panic(err)
		}
		return m
	}
	lower := turn(47, 0, 50, 0, 50, 100, 46.5, 100, 46.5, 114, 43.5, 114, 43.5, 90, 47, 86)
	upper := turn(46.8, 100, 50, 100, 50, 220, 47, 220, 47, 116, 46.8, 115)
	down := solid.QuarterTurns(0, 2)
	down.T = solid.Vec{150, 150, 220}
	seam := model.Seam{ID: "a-b", Station: 100, Kind: model.Spigot, Below: id("a"), Above: id("b"), Engage: 14}
	return testslice.Input{
		Pieces: []model.Piece{
			{ID: id("a"), Span: model.Span{From: 0, To: 100}, Printer: "heron"},
			{ID: id("b"), Span: model.Span{From: 100, To: 220}, Printer: "wren", Direction: model.NoseDown},
		},
		Carved: []model.Carved{
			{Piece: id("a"), Solid: lower, Reach: model.Span{From: 0, To: 114}},
			{Piece: id("b"), Solid: upper, Reach: model.Span{From: 100, To: 220}},
		},
		Prints: []model.Print{
			{Piece: id("a"), Placement: solid.Translation(solid.Vec{150, 150, 0})}, {Piece: id("b"), Placement: down},
		},
		Seams: []model.Seam{seam},
		Fits: []model.Fit{{
			Seam: "a-b", Station: 100, Depth: 28, Male: "a.foot.nose", Female: "b.foot.nose",
			MaleSize: model.Size{Nominal: 93}, Bore: model.Size{Nominal: 93.6}, Clearance: unit.Estimate(0.4, 0.1),
		}},
	}
}

func mustSlice(t testing.TB, in testslice.Input) model.TestSlice {
	t.Helper()
	r, found, err := testslice.Run(context.Background(), in)
	if err != nil || len(found) > 0 || r.Slice == nil {
		t.Fatalf("Run: %+v, %v, %v", r, found, err)
	}
	return *r.Slice
}

func ExampleRun() {
	in := pair()
	in.Now = "b.foot.nose"
	s := mustSlice(&testing.B{}, in)
	for _, side := range s.Sides {
		fmt.Println(side.Piece, side.Span, side.Printer)
	}
	// Output:
	// a.foot.nose {100 114} heron
	// b.foot.nose {100 114} wren
}

// Both sides are the real ends: as wide as the joint was sized, as the flats at
// the middle of the slice show.
func TestSidesAreTheRealEnds(t *testing.T) {
	s := mustSlice(t, pair())
	for _, side := range s.Sides {
		if err := side.Solid.Solid(); err != nil {
			t.Fatal(err)
		}
		box := side.Solid.Bounds()
		if box.Min[2] != 0 || math.Abs(box.Max[2]-14) > 1e-9 {
			t.Errorf("%s stands from %v to %v, want 0 to 14", side.Piece, box.Min[2], box.Max[2])
		}
		layers, err := solid.Sections(side.Solid, []float64{7})
		if err != nil {
			t.Fatal(err)
		}
		least, most := math.Inf(1), 0.0
		for _, loop := range layers[0].Loops {
			for _, p := range loop {
				r := math.Hypot(p[0]-150, p[1]-150)
				least, most = min(least, r), max(most, r)
			}
		}
		want := [2]float64{43.5, 46.5}
		if !side.Inside {
			want = [2]float64{46.8, 50}
		}
		if math.Abs(least-want[0]) > 0.03 || math.Abs(most-want[1]) > 1e-6 {
			t.Errorf("%s is from radius %v to %v, want %v", side.Piece, least, most, want)
		}
	}
	if s.Clearance.X != 0.4 || s.Sides[0].Size.Nominal != 93 || s.Sides[1].Size.Nominal != 93.6 {
		t.Errorf("sizes %+v", s)
	}
}

// The upper piece is printed nose down, so its mouth is up on the platform.
func TestSideLiesAsThePieceDoes(t *testing.T) {
	in := pair()
	in.Carved[1].Solid = in.Carved[1].Solid.Transform(solid.Identity())
	s := mustSlice(t, in)
	socket := s.Sides[1].Solid
	// Its mouth is at 100, which is 14 above the slice's own lower face.
	top := 0.0
	for _, v := range socket.Vertices {
		if math.Abs(math.Hypot(v[0]-150, v[1]-150)-46.8) < 1e-6 {
			top = max(top, v[2])
		}
	}
	if math.Abs(top-14) > 1e-9 {
		t.Errorf("the mouth is at %v, want 14", top)
	}
}

func TestLengthOfASide(t *testing.T) {
	for _, c := range []struct{ engage, want float64 }{{4, 8}, {16, 8}, {24, 12}, {30, 15}, {80, 15}} {
		in := pair()
		in.Fits[0].Depth = unit.Length(c.engage)
		for _, side := range mustSlice(t, in).Sides {
			if got := float64(side.Span.Length()); got != c.want {
				t.Errorf("a joint %v deep: %s is %v long, want %v", c.engage, side.Piece, got, c.want)
			}
		}
	}
}

func TestCollarAndItsSocketBelow(t *testing.T) {
	in := pair()
	collar := model.PieceID{Kind: model.CollarRing, Part: "b", From: model.Foot}
	ring, err := solid.Turn([]solid.PointRZ{{R: 43, Z: 86}, {R: 46, Z: 86}, {R: 46, Z: 114}, {R: 43, Z: 114}}, flats)
	if err != nil {
		t.Fatal(err)
	}
	in.Pieces = append(in.Pieces, model.Piece{ID: collar, Span: model.Span{From: 86, To: 114}})
	in.Carved = append(in.Carved, model.Carved{Piece: collar, Solid: ring, Reach: model.Span{From: 86, To: 114}})
	in.Prints = append(in.Prints, model.Print{Placement: solid.Identity()})
	in.Fits[0].Male, in.Fits[0].Female = collar.String(), "a.foot.nose"
	in.Carved[0].Reach.To = 100
	s := mustSlice(t, in)
	if s.Sides[0].Span != (model.Span{From: 100, To: 114}) || s.Sides[1].Span != (model.Span{From: 86, To: 100}) {
		t.Errorf("spans %v and %v", s.Sides[0].Span, s.Sides[1].Span)
	}
}

// Where nothing may be printed yet, the joint most in doubt is tried; where no
// joint has sizes, none.
func TestWhichJoint(t *testing.T) {
	in := pair()
	second := in.Fits[0]
	second.Seam, second.Bind = "b-c", 0.2
	in.Seams = append(in.Seams, model.Seam{ID: "b-c", Station: 100})
	in.Fits = append(in.Fits, second)
	if s := mustSlice(t, in); s.Seam != "b-c" {
		t.Errorf("slice of %s, want the one that may bind", s.Seam)
	}
	in.Now = "a.foot.nose"
	if s := mustSlice(t, in); s.Seam != "a-b" || s.Piece != id("a") {
		t.Errorf("slice of %s for %s, want the first joint of a", s.Seam, s.Piece)
	}
	if r, _, err := testslice.Run(t.Context(), testslice.Input{}); err != nil || r.Slice != nil {
		t.Errorf("nothing gives %v, %v", r.Slice, err)
	}
}
