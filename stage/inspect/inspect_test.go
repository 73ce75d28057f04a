package inspect_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/inspect"
	"scalewright/unit"
)

func box(t interface{ Fatal(...any) }, low, high solid.Vec) solid.Mesh {
	m, err := solid.Box(low, high)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

type panics struct{}

func (panics) Fatal(all ...any) { panic(fmt.Sprint(all...)) }

// two are two parts with a piece each, as boxes.
func two(t interface{ Fatal(...any) }, shift float64) inspect.Input {
	in := inspect.Input{Parts: []model.Part{{ID: "hull", Wall: 2.4}, {ID: "fin", Own: true, Form: model.Flat}}}
	for i, part := range in.Parts {
		id := model.PieceID{Kind: model.Shell, Part: part.ID, From: model.Foot, To: model.Nose}
		off := solid.Vec{shift * float64(i), 0, 0}
		in.Division.Pieces = append(in.Division.Pieces, model.Piece{ID: id, Name: part.ID})
		in.Carved = append(in.Carved, model.Carved{Piece: id, Wall: 2.4, Solid: box(t, off, off.Add(solid.Vec{10, 20, 30}))})
	}
	return in
}

func ExampleRun() {
	in := two(panics{}, 8)
	in.Carved[0].Wall, in.Carved[0].WallAt.Station = 2.29, 180
	in.Division.Seams = []model.Seam{{ID: "tail-hull", Station: 176, Engage: 8, Above: in.Carved[0].Piece}}
	_, found, err := inspect.Run(context.Background(), in)
	for _, f := range found {
		fmt.Println(f.Severity, finding.Writer{}.Message(f))
	}
	fmt.Println(err)
	// Output:
	// note the wall of hull comes out 2.29 mm thick at 180 mm, in the joint tail-hull, where 2.4 mm is declared: 4.6 % less
	// blocker fin and hull run into each other: they share 1200 mm³
	// <nil>
}

// Two boxes share the closed form of their overlap; faces that touch share nothing,
// and joined parts are not looked at.
func TestSharedRoom(t *testing.T) {
	for _, c := range []struct {
		shift, want float64
	}{{8, 2 * 20 * 30}, {9.5, 0.5 * 20 * 30}, {10, 0}, {12, 0}, {0, 10 * 20 * 30}} {
		in := two(t, c.shift)
		_, found, err := inspect.Run(t.Context(), in)
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		for _, f := range found {
			if f.Code == "parts-share-room" {
				got = float64(f.Args["much"].(finding.Number))
			}
		}
		if got != c.want {
			t.Errorf("moved by %v they share %v mm³, want %v", c.shift, got, c.want)
		}
		in.Mounts = []model.Mount{{Host: "hull", Guest: "fin"}}
		if _, found, _ := inspect.Run(t.Context(), in); len(found) > 0 {
			t.Errorf("joined: %v", found)
		}
	}
}

// A note from 2 %, a caution from 10 %, once a part, at its thinnest piece, with a
// wall that would leave what is declared.
func TestWallsUnderDeclared(t *testing.T) {
	for _, c := range []struct {
		wall unit.Length
		code finding.Code
	}{
		{2.4, ""},
		{2.36, ""},
		{2.34, "wall-under-declared"},
		{2.17, "wall-under-declared"},
		{2.15, "wall-far-under-declared"},
		{1, "wall-far-under-declared"},
		{0, ""},
		{3, ""},
	} {
		in := two(t, 50)
		in.Parts[1].Wall, in.Parts[1].Form = 2.4, model.Turned
		for i := range in.Carved {
			in.Carved[i].Wall = c.wall
		}
		_, found, err := inspect.Run(t.Context(), in)
		if err != nil {
			t.Fatal(err)
		}
		n := 2
		if c.code == "" {
			n = 0
		}
		if len(found) != n || n > 0 && slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code != c.code }) {
			t.Errorf("%v mm: %v", c.wall, found)
			continue
		}
		for _, f := range found {
			if more := float64(f.Args["more"].(finding.Size)); more*float64(c.wall)/2.4 < 2.4-1e-9 || math.IsInf(more, 0) {
				t.Errorf("%v mm: a wall of %v would leave %v", c.wall, more, more*float64(c.wall)/2.4)
			}
		}
	}
}

func TestNothingToInspect(t *testing.T) {
	if _, found, err := inspect.Run(t.Context(), inspect.Input{}); len(found) > 0 || err != nil {
		t.Errorf("%v %v", found, err)
	}
	in := two(t, 5)
	for i := range in.Carved {
		in.Carved[i].Solid = solid.Mesh{}
	}
	if _, found, err := inspect.Run(t.Context(), in); len(found) > 0 || err != nil {
		t.Errorf("%v %v", found, err)
	}
}
