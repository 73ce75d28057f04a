package measure

import (
	"math"

	"scalewright/model"
)

// cornered writes the stretches with the corners between them.
func cornered(c *closed, parts []stretch) []Segment {
	corners := make([][2]float64, len(parts)) // corner i lies between i-1 and i
	for i := range parts {
		before := parts[(i+len(parts)-1)%len(parts)]
		near := c.at(parts[i].from)
		corners[i] = meeting(before, parts[i], [2]float64{near.x, near.y})
	}
	var out []Segment
	for i, s := range parts {
		from, to := corners[i], corners[(i+1)%len(parts)]
		if !s.arc {
			out = append(out, Segment{Kind: string(model.Line), From: from, To: to})
			continue
		}
		middle := c.at((s.from + s.to) / 2)
		out = append(out, arcs(s.circle, from, to, [2]float64{middle.x, middle.y})...)
	}
	return out
}

// meeting is where two neighbours cross nearest to a place; where they do not
// come together, as a line tangent to an arc may not, the middle of what is
// nearest on each.
func meeting(a, b stretch, near [2]float64) [2]float64 {
	var all [][2]float64
	switch {
	case !a.arc && !b.arc:
		all = lineLine(a.line, b.line)
	case a.arc && b.arc:
		all = circleCircle(a.circle, b.circle)
	case a.arc:
		all = lineCircle(b.line, a.circle)
	default:
		all = lineCircle(a.line, b.circle)
	}
	best, off := [2]float64{}, math.Inf(1)
	for _, p := range all {
		if d := math.Hypot(p[0]-near[0], p[1]-near[1]); d < off {
			best, off = p, d
		}
	}
	if off <= mostCarried {
		return best
	}
	p, q := a.nearest(near), b.nearest(near)
	return [2]float64{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}
}

// mostCarried is how far, mm, two neighbours are carried on to meet in a corner:
// sharp corners are blunted by the blur of the picture.
const mostCarried = 3.0

func (s stretch) nearest(p [2]float64) [2]float64 {
	if s.arc {
		dx, dy := p[0]-s.circle.x, p[1]-s.circle.y
		d := math.Hypot(dx, dy)
		if d == 0 {
			return p
		}
		return [2]float64{s.circle.x + dx*s.circle.r/d, s.circle.y + dy*s.circle.r/d}
	}
	l := s.line
	t := (p[0]-l.x)*l.dx + (p[1]-l.y)*l.dy
	return [2]float64{l.x + t*l.dx, l.y + t*l.dy}
}

func lineLine(a, b straight) [][2]float64 {
	cross := a.dx*b.dy - a.dy*b.dx
	if cross == 0 {
		return nil
	}
	t := ((b.x-a.x)*b.dy - (b.y-a.y)*b.dx) / cross
	return [][2]float64{{a.x + t*a.dx, a.y + t*a.dy}}
}

func lineCircle(l straight, c round) [][2]float64 {
	t := (c.x-l.x)*l.dx + (c.y-l.y)*l.dy
	fx, fy := l.x+t*l.dx, l.y+t*l.dy
	h2 := c.r*c.r - (fx-c.x)*(fx-c.x) - (fy-c.y)*(fy-c.y)
	if h2 < 0 {
		return nil
	}
	h := math.Sqrt(h2)
	return [][2]float64{{fx + h*l.dx, fy + h*l.dy}, {fx - h*l.dx, fy - h*l.dy}}
}

func circleCircle(a, b round) [][2]float64 {
	dx, dy := b.x-a.x, b.y-a.y
	d := math.Hypot(dx, dy)
	if d == 0 {
		return nil
	}
	along := (d*d + a.r*a.r - b.r*b.r) / (2 * d)
	h2 := a.r*a.r - along*along
	if h2 < 0 {
		return nil
	}
	h := math.Sqrt(h2)
	ux, uy := dx/d, dy/d
	return [][2]float64{
		{a.x + along*ux - h*uy, a.y + along*uy + h*ux},
		{a.x + along*ux + h*uy, a.y + along*uy - h*ux},
	}
}

// arcs leads along a circle from one place to another past a third, in arcs of
// less than half a turn.
func arcs(c round, from, to, past [2]float64) []Segment {
	at := func(p [2]float64) float64 { return math.Atan2(p[1]-c.y, p[0]-c.x) }
	turn := positive(at(to) - at(from))
	if positive(at(past)-at(from)) > turn {
		turn -= 2 * math.Pi
	}
	n := int(math.Ceil(math.Abs(turn) / mostTurn))
	var out []Segment
	last := from
	for i := 1; i <= n; i++ {
		next := to
		if i < n {
			a := at(from) + turn*float64(i)/float64(n)
			next = [2]float64{c.x + c.r*math.Cos(a), c.y + c.r*math.Sin(a)}
		}
		out = append(out, Segment{Kind: string(model.Arc), From: last, To: next, Centre: &[2]float64{c.x, c.y}, Radius: c.r})
		last = next
	}
	return out
}

func positive(angle float64) float64 {
	if angle < 0 {
		return angle + 2*math.Pi
	}
	return angle
}

// wholeCircle is a ring that is one circle, as three arcs; a ring cannot be one
// line.
func wholeCircle(s stretch) []Segment {
	if !s.arc {
		return nil
	}
	c := s.circle
	var out []Segment
	corner := func(i int) [2]float64 {
		a := 2 * math.Pi * float64(i%3) / 3
		return [2]float64{c.x + c.r*math.Cos(a), c.y + c.r*math.Sin(a)}
	}
	for i := range 3 {
		out = append(out, Segment{Kind: string(model.Arc), From: corner(i), To: corner(i + 1), Centre: &[2]float64{c.x, c.y}, Radius: c.r})
	}
	return out
}
