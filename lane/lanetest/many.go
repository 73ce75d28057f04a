// Package lanetest makes results for tests and benches of lanes.
package lanetest

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// Many is a result of n pieces that no stage made: rings of one spindle, each with
// a spigot and a core ring beside it, with fits, prints, weights and surfaces. For
// redrawing only: no figure of it is true.
func Many(n int) job.Result {
	const long = 40.0
	var r job.Result
	r.Name = "Many"
	r.Enlarge.Ratio = 5
	var places []float64
	radius := func(k int) float64 { return 120 + 40*math.Sin(float64(k)/7) }
	for k := range n/2 + 1 {
		places = append(places, float64(k)*long, radius(k))
	}
	r.Design.Outline = model.Lines(places...)
	r.Design.Shop.Printers = []model.Printer{{ID: "wren", Name: "Wren", Line: 0.44, Nozzle: 0.4}}
	end := unit.Length(float64(n/2) * long)
	r.Design.Core = &model.Core{Stock: stock.Pipe{Name: "pipe 110 x 3.2", OD: 110, Wall: 3.2, Oval: 2}, Span: model.Span{From: 20, To: end - 20}}
	add := func(kind model.PieceKind, k int, from, to float64, loops ...[]model.Point) {
		id := model.PieceID{Kind: kind, Part: "spindle", From: fmt.Sprintf("c%d", k), To: fmt.Sprintf("c%d", k+1)}
		span := model.Span{From: unit.Length(from), To: unit.Length(to)}
		r.Division.Pieces = append(r.Division.Pieces, model.Piece{ID: id, Name: fmt.Sprintf("%s %d of %d", kind, k+1, n/2), Span: span, Printer: "wren"})
		r.Carved = append(r.Carved, model.Carved{Piece: id, Loops: loops, Reach: span, Diameter: unit.Length(2 * radius(k)), Wall: 2.4, WallAt: model.Point{Station: (from + to) / 2, Radius: radius(k)}})
		r.Prints = append(r.Prints, model.Print{Piece: id, Printer: "wren", Minutes: 300, Grams: 250, Layers: 160})
		r.Structure.Weights = append(r.Structure.Weights, model.Weight{Name: r.Division.Pieces[len(r.Division.Pieces)-1].Name, Mass: unit.Value{X: 250, U: 20}, Centre: [3]float64{0, 0, (from + to) / 2}})
		r.Finishing.Surfaces = append(r.Finishing.Surfaces, model.Surface{Piece: id, Area: 3e4, Depth: 0.07, Mean: 0.07})
		r.Structure.Total.X += 250
	}
	for k := range n / 2 {
		from, to := float64(k)*long, float64(k+1)*long
		a, b := radius(k), radius(k+1)
		var outer, inner []model.Point
		for q := range 40 { // as many corners as a carved piece has
			t := float64(q) / 39
			outer = append(outer, model.Point{Station: from + t*long, Radius: a + t*(b-a)})
			inner = append([]model.Point{{Station: from + t*long, Radius: a + t*(b-a) - 2.4}}, inner...)
		}
		add(model.Shell, k, from, to, append(outer, inner...))
		add(model.CoreRing, k, from+10, from+16, []model.Point{{Station: from + 10, Radius: 55.5}, {Station: from + 16, Radius: 55.5}, {Station: from + 16, Radius: a - 3}, {Station: from + 10, Radius: a - 3}})
		seam := fmt.Sprintf("s%d", k)
		r.Division.Seams = append(r.Division.Seams, model.Seam{ID: seam, Station: unit.Length(to), Kind: model.Spigot, Engage: 14})
		r.Division.Seats = append(r.Division.Seats, model.Seat{Span: model.Span{From: unit.Length(from + 10), To: unit.Length(from + 16)}})
		r.Fits.Fits = append(r.Fits.Fits, model.Fit{Seam: seam, Station: unit.Length(to), Clearance: unit.Value{X: 0.36, U: 0.1}, Bind: 0.001})
	}
	for k := range n / 8 {
		at := float64(k)*long*4 + 15
		id := fmt.Sprintf("part-%d", k)
		r.Design.Components = append(r.Design.Components, model.Component{ID: id})
		r.Places.Bays = append(r.Places.Bays, model.Bay{
			Component: id, Centre: [3]unit.Length{unit.Length(70 - 140*(k%2)), 10, unit.Length(at)},
			Axes: [3][3]float64{{0, 0, 1}, {0, 1, 0}, {1, 0, 0}}, Size: [3]unit.Length{30, 20, 12},
		})
		r.Places.Ways = append(r.Places.Ways, model.Way{
			Wire: "wire-" + id, From: id, To: "part-0", Path: [][3]unit.Length{{70, 0, unit.Length(at)}, {-80, 0, unit.Length(at)}, {-80, 0, 15}},
		})
		r.Findings.Add(finding.New("overhang", finding.Place{}, finding.Args{"piece": finding.Name(id), "area": finding.Number(1)}).AtStation(unit.Length(at)))
	}
	for k := range n * 5 {
		r.Trace.Profile = append(r.Trace.Profile, model.TracePoint{Station: float64(k) * float64(end) / 5 / float64(n*5), Radius: unit.Value{X: 20, U: 0.1}})
	}
	r.Finishing.Needs = []model.Need{{Coating: "primer", Area: 9}, {Coating: "colour", Area: 6}}
	r.Fits.Together = 0.9
	return r
}

// Lettering is every line of letters on a scene with the box it takes.
func Lettering(s *drawing.Scene) []drawing.Text {
	var out []drawing.Text
	for _, it := range s.Items {
		if t, ok := it.(drawing.Text); ok && t.Bounds().W > 0 {
			out = append(out, t)
		}
	}
	return out
}
