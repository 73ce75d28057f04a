package redraw

import (
	"math"

	"scalewright/model"
)

// Lines that lie nearer to each other in direction than this have no crossing that
// a hand could find, radians: a hundredth of a mm square to them moves it by 1 mm.
const leastAngle = 0.01

// Cross is where two carriers meet, nearest to a place; false where they do not,
// or do so too flatly to say where. A circle that all but touches is met where it
// comes nearest.
func Cross(a, b Carrier, near model.Point) (model.Point, bool) {
	switch {
	case a.Kind == model.Arc && b.Kind == model.Arc:
		return circles(a, b, near)
	case a.Kind == model.Arc:
		return lineCircle(b, a, near)
	case b.Kind == model.Arc:
		return lineCircle(a, b, near)
	}
	det := float64(a.Dir.Station*b.Dir.Radius) - float64(a.Dir.Radius*b.Dir.Station)
	if math.Abs(det) < leastAngle {
		return model.Point{}, false
	}
	dx, dy := b.P.Station-a.P.Station, b.P.Radius-a.P.Radius
	t := (float64(dx*b.Dir.Radius) - float64(dy*b.Dir.Station)) / det
	return a.along(t), true
}

func (c Carrier) along(t float64) model.Point {
	return model.Point{Station: c.P.Station + float64(t*c.Dir.Station), Radius: c.P.Radius + float64(t*c.Dir.Radius)}
}

// A circle and what it should touch may miss each other by this share of its
// radius and still count as touching.
const touching = 0.02

func lineCircle(line, circle Carrier, near model.Point) (model.Point, bool) {
	dx, dy := circle.Centre.Station-line.P.Station, circle.Centre.Radius-line.P.Radius
	t := float64(dx*line.Dir.Station) + float64(dy*line.Dir.Radius)
	foot := line.along(t)
	off := apart(foot, circle.Centre)
	if off >= circle.R {
		return foot, off-circle.R <= touching*circle.R
	}
	half := math.Sqrt(circle.R*circle.R - off*off)
	return nearer(line.along(t-half), line.along(t+half), near), true
}

func circles(a, b Carrier, near model.Point) (model.Point, bool) {
	d := apart(a.Centre, b.Centre)
	if d == 0 {
		return model.Point{}, false
	}
	ex, ey := (b.Centre.Station-a.Centre.Station)/d, (b.Centre.Radius-a.Centre.Radius)/d
	along := (d*d + a.R*a.R - b.R*b.R) / (2 * d)
	h := a.R*a.R - along*along
	foot := model.Point{Station: a.Centre.Station + float64(along*ex), Radius: a.Centre.Radius + float64(along*ey)}
	if h <= 0 {
		miss := min(math.Abs(d-a.R-b.R), math.Abs(d-math.Abs(a.R-b.R)))
		return foot, miss <= touching*min(a.R, b.R)
	}
	h = math.Sqrt(h)
	return nearer(model.Point{Station: foot.Station - h*ey, Radius: foot.Radius + h*ex}, model.Point{Station: foot.Station + h*ey, Radius: foot.Radius - h*ex}, near), true
}

func nearer(a, b, to model.Point) model.Point {
	if apart(b, to) < apart(a, to) {
		return b
	}
	return a
}
