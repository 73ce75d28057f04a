package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

const (
	wallsHeight = 30.0
	wallsTop    = 7.0
	wallStep    = 0.5 // mm of paper between the places looked at
	wallMost    = 4.0 // of the limit: thicker places run along the top
	wallLines   = 2.0 // lines of the printer that make a wall, as printing judges
)

// Walls is the thinnest wall along the build, on the radius, against two lines
// of the printer that makes it. Thick places run along the top.
func Walls(r job.Result, v View) *drawing.Scene {
	if len(r.Carved) == 0 {
		return empty(v, "Walls", "No walls yet: nothing is carved.")
	}
	least, at := leastWall(r)
	summary := fmt.Sprintf("least %s at %s", v.System.Fine(least), v.System.Whole(at))
	if math.IsInf(float64(least), 1) {
		summary = "solid throughout"
	}
	if v.Folded {
		return folded(v, "Walls", summary)
	}
	if len(r.Design.Outline) == 0 {
		return folded(v, "Walls", summary) // nothing has its wall by station
	}
	s := drawing.New(v.Width, wallsHeight)
	s.Title, s.Desc = "Walls", summary
	limit := needed(r)
	most := wallMost * limit
	floor := wallsHeight - 2
	y := func(wall float64) float64 { return floor - min(wall, most)/most*(floor-wallsTop) }
	var onBody []model.Carved
	for _, i := range bodies(r) {
		onBody = append(onBody, r.Carved[i])
	}
	area, line := &drawing.Path{}, &drawing.Path{}
	first, last := v.X(v.Span.From), v.X(v.Span.To)
	area.Move(drawing.Pt(first, floor))
	under := &drawing.Path{}
	for x := first; x <= last; x += wallStep {
		w := thinnest(onBody, float64(v.Span.From)+(x-first)/v.Scale())
		if math.IsInf(w, 1) {
			w = 0
		}
		p := drawing.Pt(x, y(w))
		area.Line(p)
		line.Line(p)
		if w > 0 && w < limit {
			under.Append(drawing.Box(drawing.Rect{X: x, Y: p.Y, W: wallStep, H: floor - p.Y}))
		}
	}
	area.Line(drawing.Pt(last, floor)).Close()
	s.Path(area, drawing.Filled(drawing.Shade))
	s.Path(under, drawing.Filled(drawing.Signal))
	s.Path(line, drawing.Lined(drawing.Object))
	s.Line(drawing.Pt(first, floor), drawing.Pt(last, floor), drawing.Thin)
	s.Line(drawing.Pt(first, y(limit)), drawing.Pt(last, y(limit)), drawing.Limit)
	s.Text(drawing.Text{
		At: drawing.Pt(last, y(limit)-1), H: drawing.End, Size: drawing.SizeSmall, Halo: 0.6,
		String: "two lines, " + v.System.Fine(unit.Length(limit)),
	})
	s.Text(drawing.Text{At: drawing.Pt(first, 3.6), V: drawing.Centre, Size: drawing.SizeSmall, String: summary})
	return s
}

// leastWall is the thinnest wall of all pieces, square to the surface.
func leastWall(r job.Result) (wall, station unit.Length) {
	wall = unit.Length(math.Inf(1))
	for i, c := range r.Carved {
		if c.Wall > 0 && c.Wall < wall {
			wall, station = c.Wall, unit.Length(c.WallAt.Station)
			if r.Division.Pieces[i].Own {
				station = stretchOf(r, i).From
			}
		}
	}
	return wall, station
}

// needed is the wall that the printer with the widest line needs.
func needed(r job.Result) float64 {
	most := 0.0
	for _, p := range r.Prints {
		if printer, ok := r.Design.Shop.Printer(p.Printer); ok {
			most = max(most, wallLines*float64(printer.Line))
		}
	}
	return most
}

// WallsTable lists the thinnest place of each piece.
func WallsTable(r job.Result, u unit.System) Table {
	t := Table{Heads: []string{"piece", "thinnest wall", "at", "two lines of its printer"}}
	for i, c := range r.Carved {
		printer, _ := r.Design.Shop.Printer(r.Division.Pieces[i].Printer)
		t.Rows = append(t.Rows, []string{
			r.Division.Pieces[i].Name, wallWords(c, u), u.Whole(unit.Length(c.WallAt.Station)), u.Fine(wallLines * printer.Line),
		})
	}
	return t
}

// wallWords is a piece's thinnest wall; a solid that is not turned has none.
func wallWords(c model.Carved, u unit.System) string {
	if c.Wall == 0 {
		return "solid"
	}
	return u.Fine(c.Wall)
}
