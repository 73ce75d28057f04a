package lane_test

import (
	"fmt"

	"scalewright/job"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// A view puts the same station at the same place in every lane.
func ExampleView() {
	v := lane.View{Span: model.Span{From: 0, To: 1300}, Width: lane.WidthAt(model.Span{To: 1300}, 0.25)}
	fmt.Println(lane.ScaleText(1/v.Scale()), v.X(0), v.X(650), v.X(1300))
	// Output: 1:4 12 174.5 337
}

// A lane without anything to show says so; its table has the same facts.
func ExampleWalls() {
	s := lane.Walls(lane.Prepare(job.Result{}), lane.View{Width: 200})
	fmt.Println(s.Title, s.Width)
	r := job.Result{
		Division: model.Division{Pieces: []model.Piece{{Name: "bell", Printer: "wren"}}},
		Carved:   []model.Carved{{Wall: 2.4, WallAt: model.Point{Station: 84}}},
		Design:   model.Design{Shop: model.Shop{Printers: []model.Printer{{ID: "wren", Line: 0.44}}}},
	}
	fmt.Println(lane.WallsTable(lane.Prepare(r), unit.Metric).Rows)
	// Output:
	// Walls 200
	// [[bell 2.4 mm 84 mm 0.88 mm]]
}
