package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/unit"
)

// curve is a quantity along the build as an area under a line: points come by
// station and are thinned to what the paper shows, the least of each step kept.
type curve struct {
	s     *drawing.Scene
	v     View
	floor float64
	y     func(float64) float64
	most  float64 // mm of the build; points farther apart are not joined
	high  bool    // the largest of each step is kept instead

	points []curvePoint
	runs   [][]curvePoint
	last   float64
}

type curvePoint struct{ x, value float64 }

// point adds a place; stations do not run back.
func (c *curve) point(station, value float64) {
	if !c.v.touches(station-c.most, station+c.most) || !finite(station, value) {
		return
	}
	if len(c.points) > 0 && station-c.last > c.most {
		c.flush()
	}
	c.last = station
	x := c.v.X(unit.Length(station))
	if n := len(c.points); n > 2 && x-c.points[n-2].x < wallStep {
		// Within one step: keep where the curve turns to its extreme, and its end.
		if p := &c.points[n-1]; (value < p.value) != c.high {
			*p = curvePoint{x, value}
		}
		return
	}
	c.points = append(c.points, curvePoint{x, value})
}

func (c *curve) flush() {
	if len(c.points) > 1 {
		c.runs = append(c.runs, c.points)
	}
	c.points = nil
}

// draw fills the area, signals where the value lies under the limit, and draws the
// line.
func (c *curve) draw(id, says string, limit float64) {
	c.flush()
	clip := drawing.Rect{X: edge, W: c.s.Width - 2*edge, H: c.s.Height}
	from, to := c.v.seen()
	begin(c.s, id, "curve", says, from, to)
	defer c.s.End()
	for _, run := range c.runs {
		area, line, under := &drawing.Path{}, &drawing.Path{}, &drawing.Path{}
		area.Move(drawing.Pt(run[0].x, c.floor))
		for i, q := range run {
			p := drawing.Pt(q.x, c.y(q.value))
			area.Line(p)
			line.Line(p)
			if i > 0 {
				under.Append(c.below(run[i-1], q, limit))
			}
		}
		area.Line(drawing.Pt(run[len(run)-1].x, c.floor)).Close()
		c.s.Path(area.Clipped(clip), drawing.Filled(drawing.Shade))
		if !under.Empty() {
			c.s.Path(under.Clipped(clip), drawing.Filled(drawing.Signal))
		}
		c.s.Path(line.Within(clip), drawing.Lined(drawing.Object))
	}
}

// below is the area between two neighbours where the value lies under the limit.
func (c *curve) below(a, b curvePoint, limit float64) *drawing.Path {
	if a.value >= limit && b.value >= limit {
		return &drawing.Path{}
	}
	cut := func(p, q curvePoint) curvePoint {
		t := (limit - p.value) / (q.value - p.value)
		return curvePoint{p.x + t*(q.x-p.x), limit}
	}
	if a.value > limit {
		a = cut(a, b)
	}
	if b.value > limit {
		b = cut(b, a)
	}
	return drawing.Polygon(drawing.Pt(a.x, c.floor), drawing.Pt(a.x, c.y(a.value)), drawing.Pt(b.x, c.y(b.value)), drawing.Pt(b.x, c.floor))
}

// block keeps words off the line.
func (c *curve) block(room *drawing.Room) {
	for _, run := range c.runs {
		for i := 1; i < len(run); i++ {
			a, b := run[i-1], run[i]
			if math.Max(a.x, b.x) < 0 || math.Min(a.x, b.x) > c.s.Width {
				continue
			}
			room.Line(drawing.Pt(a.x, c.y(a.value)), drawing.Pt(b.x, c.y(b.value)))
		}
	}
}
