package assembly_test

import (
	"context"
	"fmt"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/assembly"
	"scalewright/stock"
	"scalewright/unit"
)

// box is a loop of the half plane: stations and radii.
func box(from, to, in, out float64) []model.Point {
	return []model.Point{{Station: from, Radius: in}, {Station: from, Radius: out}, {Station: to, Radius: out}, {Station: to, Radius: in}}
}

// stack is a build of turned shells, one on top of another, written by hand.
type stack struct {
	in assembly.Input
}

// shell adds a shell 2 mm thick of a radius, closed by a wall 2 mm thick at the
// ends that are named. One that stands on another is glued to it.
func (s *stack) shell(part string, from, to, radius float64, closed ...string) model.PieceID {
	id := model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose}
	loops := [][]model.Point{box(from, to, radius-2, radius)}
	for _, end := range closed {
		switch end {
		case model.Foot:
			loops = append(loops, box(from, from+2, 0, radius-2))
		case model.Nose:
			loops = append(loops, box(to-2, to, 0, radius-2))
		}
	}
	if n := len(s.in.Division.Pieces); n > 0 {
		below := s.in.Division.Pieces[n-1].ID
		s.in.Division.Seams = append(s.in.Division.Seams, model.Seam{
			ID: below.Part + "-" + part, Station: unit.Length(from), Kind: model.Butt, Below: below, Above: id,
		})
	}
	s.piece(id, loops, from, to)
	return id
}

func (s *stack) piece(id model.PieceID, loops [][]model.Point, from, to float64) {
	span := model.Span{From: unit.Length(from), To: unit.Length(to)}
	s.in.Division.Pieces = append(s.in.Division.Pieces, model.Piece{ID: id, Name: id.Part, Span: span})
	s.in.Shapes = append(s.in.Shapes, assembly.Shape{Loops: loops, Span: span})
	s.in.Design.Parts = append(s.in.Design.Parts, model.Part{ID: id.Part, Form: model.Turned, Span: span, At: finding.Place{File: "build.yaml", Path: "parts." + id.Part}})
}

// plug is a disc fixed inside, that closes the room round the axis.
func (s *stack) plug(part, host string, station, radius float64) {
	id := model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose}
	s.piece(id, [][]model.Point{box(station, station+2, 0, radius)}, station, station+2)
	s.in.Design.Mounts = append(s.in.Design.Mounts, model.Mount{ID: host + "-" + part, Host: host, Guest: part})
}

func (s *stack) core(from, to float64) {
	s.in.Design.Core = &model.Core{Stock: stock.Pipe{Name: "pipe", OD: 20, Wall: 2}, Span: model.Span{From: unit.Length(from), To: unit.Length(to)}, Hold: model.Bored}
}

// lamp puts a component on the axis of a part.
func (s *stack) lamp(id, part string, station float64, service model.Service) {
	s.in.Design.Components = append(s.in.Design.Components, model.Component{ID: id, Part: part, Service: service, At: finding.Place{File: "build.yaml", Path: "components." + id}})
	s.in.Places.Bays = append(s.in.Places.Bays, model.Bay{
		Component: id, Part: part, Piece: model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose},
		Centre: [3]unit.Length{15, 0, unit.Length(station)}, Size: [3]unit.Length{20, 12, 4},
	})
}

// wire joins two components by a straight way, with so much slack.
func (s *stack) wire(id, from, to string, slack float64) {
	at := func(c string) [3]unit.Length {
		b, _ := s.in.Places.Bay(c)
		return b.Centre
	}
	a, b := at(from), at(to)
	s.in.Places.Ways = append(s.in.Places.Ways, model.Way{
		Wire: id, From: from, To: to, Path: [][3]unit.Length{a, b}, Length: max(a[2]-b[2], b[2]-a[2]) + unit.Length(slack),
	})
}

func (s *stack) removable(seam string) {
	for i := range s.in.Division.Seams {
		if s.in.Division.Seams[i].ID == seam {
			s.in.Division.Seams[i].Removable = true
		}
	}
	for i := range s.in.Design.Mounts {
		if s.in.Design.Mounts[i].ID == seam {
			s.in.Design.Mounts[i].Removable = true
		}
	}
}

func run(t testing.TB, s stack) (model.Assembly, finding.List) {
	t.Helper()
	a, found, err := assembly.Run(context.Background(), s.in)
	if err != nil {
		t.Fatal(err)
	}
	return a, found
}

// A lamp in a nose closed at its tip and its board in a base closed at its foot are
// put in, connected while the two lie a hand apart, and tried before they close.
func ExampleRun() {
	var s stack
	s.shell("base", 0, 100, 50, model.Foot)
	s.shell("nose", 100, 200, 50, model.Nose)
	s.lamp("lamp", "nose", 150, model.Sealed)
	s.lamp("board", "base", 50, model.Sealed)
	s.wire("w1", "board", "lamp", 200)
	a, found, err := assembly.Run(context.Background(), s.in)
	for _, step := range a.Steps {
		fmt.Println(step.Task.ID, step.Shuts, step.Through)
	}
	fmt.Println(found, err)
	// Output:
	// put.board [] []
	// draw.w1 [] []
	// put.lamp [] []
	// solder.w1 [] []
	// try.join.base-nose [] []
	// join.base-nose [lamp board] [w1]
	// try.all [] []
	// [] <nil>
}
