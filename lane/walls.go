package lane

import (
	"fmt"
	"math"
	"strings"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

const (
	wallsHeight = 26.0
	wallsTop    = 5.0
	wallStep    = 0.3 // mm of paper between the places drawn
	wallMost    = 4.0 // of the limit: thicker places run along the top
	wallLines   = 2.0 // lines of the printer that make a wall, as printing judges
)

// Walls is the thinnest wall along the build, on the radius, against two lines
// of the printer that makes it. Thick places run along the top; where nothing is
// known the curve is broken.
func Walls(p *Prepared, v View) *drawing.Scene {
	const title = "Walls"
	switch {
	case len(p.Carved) == 0:
		return empty(v, title, "No walls yet: nothing is carved.")
	case v.Folded:
		return folded(v, title, saysWalls(p, v.System), readWalls(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	if len(p.walls) == 0 {
		return folded(v, title, saysWalls(p, v.System), readWalls(p, v)) // nothing has its wall by station
	}
	s := v.paper(wallsHeight)
	s.Title, s.Desc = title, saysWalls(p, v.System).Says
	p.underlay(s, v)
	limit := p.limit
	if limit == 0 {
		limit = 1 // nothing is known of the printers: a millimetre for scale
	}
	floor := wallsHeight - 2
	y := func(wall float64) float64 {
		return floor - min(wall, wallMost*limit)/(wallMost*limit)*(floor-wallsTop)
	}
	g := curve{s: s, v: v, floor: floor, y: y, most: 2.5 * wallGrid}
	for _, w := range p.walls {
		g.point(w.station, w.wall)
	}
	g.draw("walls", s.Desc, limit)
	first, last := edge, s.Width-edge
	s.Line(drawing.Pt(first, floor), drawing.Pt(last, floor), drawing.Thin)
	room := drawing.NewRoom(drawing.Rect{X: edge, W: s.Width - 2*edge, H: s.Height})
	if p.limit > 0 {
		begin(s, "wall-limit", "limit", "two lines, "+hundredths(limit), float64(v.Span.From), float64(v.Span.To))
		s.Line(drawing.Pt(first, y(limit)), drawing.Pt(last, y(limit)), drawing.Limit)
		s.End()
		room.Line(drawing.Pt(first, y(limit)), drawing.Pt(last, y(limit)))
	}
	g.block(room)
	if p.limit > 0 {
		t := drawing.Text{V: drawing.Centre, Size: drawing.SizeSmall, Halo: 0.6, String: "two lines, " + hundredths(limit)}
		wide := t.Width()
		for _, share := range [...]float64{1, 0.97, 0.93, 0.85, 0.75, 0.6, 0.5, 0.3, 0.1, 0} {
			if t.At = drawing.Pt(first+1+share*(last-first-2-wide), y(limit)+2.4); room.Write(s, t, 0.5) {
				break
			}
		}
	}
	p.wallFigures(s, v, room, y)
	hang(s, v)
	return s
}

// wallFigures letters the wall of each piece at its thinnest place that shows in
// the curve, the thinnest of all first.
func (p *Prepared) wallFigures(s *drawing.Scene, v View, room *drawing.Room, y func(float64) float64) {
	least, at := math.Inf(1), 0.0
	for _, t := range p.thin { // of those that the curve shows
		if !p.Division.Pieces[t.piece].Own && t.wall < least {
			least, at = t.wall, t.station
		}
	}
	write := func(station, wall float64, text string, face drawing.Face) {
		if !finite(station, wall) || station < float64(v.Span.From) || station > float64(v.Span.To) {
			return
		}
		for _, aside := range [...]float64{0, 3, -3, 6, -6, 10, -10} { // mm
			for _, rise := range [...]float64{2.2, 4.4} {
				t := drawing.Text{
					At: drawing.Pt(v.X(unit.Length(station))+aside, y(wall)-rise), H: drawing.Middle, V: drawing.Centre, Size: drawing.SizeSmall,
					String: text, Face: face, Halo: 0.5,
				}
				if room.Write(s, t, 1) {
					return
				}
			}
		}
	}
	if finite(least) {
		write(at, least, wallFigure(least), drawing.Bold)
	}
	for _, i := range p.shells {
		if i >= len(p.Carved) {
			break
		}
		middle := float64(p.Division.Pieces[i].Span.From+p.Division.Pieces[i].Span.To) / 2
		if w := p.wallNear(middle); finite(w) && w < wallMost*max(p.limit, 0.25) {
			write(middle, w, wallFigure(w), drawing.Regular)
		}
	}
}

// wallFigure is a wall without its unit, which the head of the lane names.
func wallFigure(w float64) string { return strings.TrimSuffix(hundredths(w), " mm") }

// wallNear is the wall at the place looked at that is nearest to a station.
func (p *Prepared) wallNear(station float64) float64 {
	best, wall := wallGrid, math.Inf(1)
	for _, w := range p.walls {
		if d := math.Abs(w.station - station); d < best {
			best, wall = d, w.wall
		}
	}
	return wall
}

// leastWall is the thinnest wall of all pieces, square to the surface.
func (p *Prepared) leastWall() (wall, station float64) {
	wall = math.Inf(1)
	for _, t := range p.thin {
		if t.wall < wall {
			wall, station = t.wall, t.station
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

func saysWalls(p *Prepared, u unit.System) Summary {
	least, at := p.leastWall()
	if !finite(least) {
		return Summary{Says: "solid throughout"}
	}
	out := Summary{Says: fmt.Sprintf("least %s at %s", hundredths(least), u.Whole(unit.Length(at)))}
	if p.limit > 0 {
		out.Remark = "a printer needs " + hundredths(p.limit)
		out.Alarm = least < p.limit
	}
	return out
}

func readWalls(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok {
		return Reading{}
	}
	w := p.wallNear(at)
	switch {
	case !finite(w):
		return Reading{Here: "no wall known here"}
	case p.limit > 0 && w >= wallMost*p.limit:
		return Reading{Here: "solid, " + hundredths(w)}
	}
	return Reading{Here: hundredths(w)}
}

// WallsTable lists the thinnest place of each piece.
func WallsTable(p *Prepared, u unit.System) Table {
	t := table("Walls: "+saysWalls(p, u).Says, "piece", "#thinnest wall", "#at", "#two lines of its printer")
	for _, i := range p.byStation() {
		if i >= len(p.Carved) {
			continue
		}
		c := p.Carved[i]
		printer, _ := p.Design.Shop.Printer(p.Division.Pieces[i].Printer)
		at := "–"
		if c.Wall > 0 {
			at = u.Whole(unit.Length(c.WallAt.Station))
			if p.Division.Pieces[i].Own { // its stations are its own
				at = u.Whole(p.stretch[i].From)
			}
		}
		t.row(p.Division.Pieces[i].Name, wallWords(c, u), at, hundredths(float64(wallLines*printer.Line)))
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
