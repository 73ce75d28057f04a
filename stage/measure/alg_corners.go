package measure

import (
	"math"

	"scalewright/model"
)

// fit draws the piece through its rows: a line by least squares of the radius,
// an arc by least squares of the distance (Gauss-Newton; the algebraic circle
// would be too small on a short arc: Gander, Golub & Strebel, BIT 34 (1994)
// 558-578).
func (p *piece) fit(rows []row) {
	x, y, w := make([]float64, 0), make([]float64, 0), make([]float64, 0)
	for k := p.from; k <= p.to; k++ {
		u := max(rows[k].u, segmentFloor)
		v := 1 / (u * u)
		if k == 0 || k == len(rows)-1 {
			v *= 0.01
		}
		x, y, w = append(x, rows[k].s), append(y, rows[k].r), append(w, v)
	}
	if p.arc {
		var ok bool
		if p.cs, p.cr, p.r, ok = fitCircle(x, y, w); ok {
			return
		}
		p.arc = false
	}
	var sw, sx, sy, sxx, sxy float64
	for i := range x {
		sw, sx, sy = sw+w[i], sx+w[i]*x[i], sy+w[i]*y[i]
		sxx, sxy = sxx+w[i]*x[i]*x[i], sxy+w[i]*x[i]*y[i]
	}
	p.m = (sw*sxy - sx*sy) / (sw*sxx - sx*sx)
	p.b = (sy - p.m*sx) / sw
}

// fitCircle fits a circle by weighted distance, from the algebraic circle.
func fitCircle(x, y, w []float64) (cx, cy, r float64, ok bool) {
	x0, y0 := x[len(x)/2], y[len(y)/2]
	var n [4][5]float64
	n[3][3] = 1
	for i := range x {
		a, b := x[i]-x0, y[i]-y0
		g := [3]float64{a, b, 1}
		for j := range g {
			for k := range g {
				n[j][k] += w[i] * g[j] * g[k]
			}
			n[j][4] -= w[i] * g[j] * (a*a + b*b)
		}
	}
	q, ok := solve4(n)
	if !ok {
		return 0, 0, 0, false
	}
	cx, cy = -q[0]/2, -q[1]/2
	r = math.Sqrt(math.Max(cx*cx+cy*cy-q[2], 0))
	for range 50 {
		var m [4][5]float64
		m[3][3] = 1
		for i := range x {
			dx, dy := x[i]-x0-cx, y[i]-y0-cy
			d := math.Hypot(dx, dy)
			if d == 0 {
				return 0, 0, 0, false
			}
			g := [3]float64{-dx / d, -dy / d, -1}
			for j := range g {
				for k := range g {
					m[j][k] += w[i] * g[j] * g[k]
				}
				m[j][4] -= w[i] * g[j] * (d - r)
			}
		}
		s, ok := solve4(m)
		if !ok {
			return 0, 0, 0, false
		}
		cx, cy, r = cx+s[0], cy+s[1], r+s[2]
		if math.Abs(s[0])+math.Abs(s[1])+math.Abs(s[2]) < 1e-9*r {
			break
		}
	}
	return cx + x0, cy + y0, r, r > 0 && r < 1e6
}

// at is the radius of the piece at a station.
func (p *piece) at(s float64) float64 {
	if !p.arc {
		return max(0, p.m*s+p.b)
	}
	h := math.Sqrt(max(0, p.r*p.r-(s-p.cs)*(s-p.cs)))
	if p.cr > 0 && p.hollow() {
		h = -h
	}
	return max(0, p.cr+h)
}

// reach is the last station, up to s, at which the piece lies above the axis: a
// round tip may close a little before the end that was read.
func (p *piece) reach(s float64) float64 {
	if p.arc && p.r > math.Abs(p.cr) {
		if tip := p.cs + math.Sqrt(p.r*p.r-p.cr*p.cr); tip < s && !p.hollow() {
			return tip
		}
	}
	return s
}

// hollow reports whether an arc bulges towards the axis.
func (p *piece) hollow() bool { return p.m < 0 }

// side settles which way an arc bulges, from its middle row; kept in m, which an
// arc has no other use for.
func (p *piece) side(rows []row) {
	if p.arc {
		p.m = 1
		if rows[(p.from+p.to)/2].r < p.cr {
			p.m = -1
		}
	}
}

// meet is how far, mm, beyond its rows a piece may be carried to meet the next.
const meet = 1.5

// join makes corners: where two neighbours cross near their common end, that
// place; else a step half way.
func join(pieces []piece, rows []row) model.Outline {
	for i := range pieces {
		pieces[i].side(rows)
	}
	var out model.Outline
	from := model.Point{Station: rows[0].s, Radius: pieces[0].at(rows[0].s)}
	for i, p := range pieces {
		last := i == len(pieces)-1
		var to, next model.Point
		if last {
			s := p.reach(rows[len(rows)-1].s)
			to = model.Point{Station: s, Radius: p.at(s)}
		} else {
			to, next = corner(&p, &pieces[i+1], rows[p.to].s, rows[pieces[i+1].from].s)
		}
		if to.Station > from.Station {
			seg := model.Segment{Kind: model.Line, From: from, To: to}
			if p.arc {
				seg.Kind, seg.Centre, seg.R = model.Arc, model.Point{Station: p.cs, Radius: p.cr}, p.r
			}
			out = append(out, seg)
			from = to
		}
		if !last && next != from {
			out = append(out, model.Segment{Kind: model.Line, From: from, To: next})
			from = next
		}
	}
	return out
}

// corner is where piece p ends and q begins, between stations a and b.
func corner(p, q *piece, a, b float64) (end, begin model.Point) {
	lo, hi := a-meet, b+meet
	diff := func(s float64) float64 { return p.at(s) - q.at(s) }
	const steps = 60
	best, found := 0.0, false
	mid := (a + b) / 2
	for k := range steps {
		s := lo + (hi-lo)*float64(k)/steps
		t := lo + (hi-lo)*float64(k+1)/steps
		if (diff(s) <= 0) == (diff(t) <= 0) {
			continue
		}
		for range 60 {
			m := (s + t) / 2
			if (diff(s) <= 0) == (diff(m) <= 0) {
				s = m
			} else {
				t = m
			}
		}
		if !found || math.Abs(s-mid) < math.Abs(best-mid) {
			best, found = s, true
		}
	}
	if found {
		c := model.Point{Station: best, Radius: p.at(best)}
		return c, c
	}
	end, begin = model.Point{Station: mid, Radius: p.at(mid)}, model.Point{Station: mid, Radius: q.at(mid)}
	if gap := end.Radius - begin.Radius; math.Abs(gap) < leastStep {
		// They touch, or all but: no step to be seen. An arc keeps its shape, so a
		// line gives way to it, and of two arcs the second.
		if !q.arc {
			return end, end
		}
		if !p.arc {
			return begin, begin
		}
		q.cr += gap
		return end, end
	}
	return end, begin
}

// leastStep is the lowest step, mm, that is drawn: three times the doubt of a
// radius in a good photograph.
const leastStep = 0.06

// listSegments writes an outline for the report, with the faces of blunt ends.
func listSegments(o model.Outline) []Segment {
	out := []Segment{}
	face := func(from, to [2]float64) {
		if from[1] != to[1] && max(from[1], to[1]) > endFace {
			out = append(out, Segment{Kind: string(model.Line), From: from, To: to})
		}
	}
	if len(o) == 0 {
		return out
	}
	first := [2]float64{o[0].From.Station, o[0].From.Radius}
	face([2]float64{first[0], 0}, first)
	for _, s := range o {
		seg := Segment{
			Kind: string(s.Kind),
			From: [2]float64{s.From.Station, s.From.Radius}, To: [2]float64{s.To.Station, s.To.Radius},
		}
		if s.Kind == model.Arc {
			seg.Centre, seg.Radius = &[2]float64{s.Centre.Station, s.Centre.Radius}, s.R
		}
		out = append(out, seg)
	}
	last := out[len(out)-1].To
	face(last, [2]float64{last[0], 0})
	return out
}

// endFace is the radius, mm, above which an end is blunt enough to list its face.
const endFace = 0.5
