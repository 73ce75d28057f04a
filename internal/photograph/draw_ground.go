package photograph

import "math"

// ground draws all that is flat: table, mat, card and ruler.
type ground struct {
	s     *Scene
	grain []float32
	shade *shade
	rsin, rcos,
	csin, ccos,
	tsin, tcos float64
	minX, minY, maxX, maxY float64 // the mat's edge, true mm
}

func newGround(s *Scene, sh *shade) *ground {
	g := &ground{s: s, grain: grain(), shade: sh}
	if s.ruler != nil {
		g.rsin, g.rcos = math.Sincos(s.ruler.angle * math.Pi / 180)
	}
	if s.card != nil {
		g.csin, g.ccos = math.Sincos(s.card.angle)
	}
	g.tsin, g.tcos = math.Sincos(s.table.angle)
	m := &s.mat
	g.minX, g.minY = -m.border*m.scale[0], -m.border*m.scale[1]
	g.maxX = (float64(m.cols)*m.pitch + m.border) * m.scale[0]
	g.maxY = (float64(m.rows)*m.pitch + m.border) * m.scale[1]
	return g
}

// place is what is looked at: where the ray meets the mat's plane, how wide a
// pixel is there, and the light that would fall on it.
type place struct {
	x, y   float64
	wx, wy float64 // mm of one pixel along x and along y
	lamps  [2]float64
}

// cover is how much of a strip of width w (centre d off) lies within ±half: a box
// filter.
func cover(d, half, w float64) float64 {
	return max(0, min(half, d+w/2)-max(-half, d-w/2)) / w
}

// roundedEdge is the distance out of a rectangle with round corners; negative
// inside.
func roundedEdge(x, y, x0, y0, x1, y1, r float64) float64 {
	dx := math.Abs(x-(x0+x1)/2) - (x1-x0)/2 + r
	dy := math.Abs(y-(y0+y1)/2) - (y1-y0)/2 + r
	if dx > 0 && dy > 0 {
		return math.Hypot(dx, dy) - r
	}
	return max(dx, dy) - r
}

// radiance is the light that comes from a place.
func (g *ground) radiance(p place) colour {
	vis, sky := g.shade.at(p.x, p.y)
	w := (p.wx + p.wy) / 2
	edge := roundedEdge(p.x, p.y, g.minX, g.minY, g.maxX, g.maxY, 4)
	on := min(1, max(0, 0.5-edge/w))
	if g.s.matless {
		edge, on = math.Inf(1), 0
	}
	var albedo colour
	if on < 1 {
		albedo = g.wood(p)
		// The mat's edge is 2 mm high: the table beside it is darker.
		sky *= 1 - 0.45*math.Exp(-max(0, edge)/1.8)*(1-on)
	}
	if on > 0 {
		albedo = albedo.mix(g.print(p), on)
	}
	if c := g.s.card; c != nil {
		x, y := p.x-c.x, p.y-c.y
		x, y = x*g.ccos+y*g.csin, y*g.ccos-x*g.csin
		out := max(math.Abs(x)-c.w, math.Abs(y)-c.h)
		albedo = albedo.mix(c.colour.times(1+0.02*noise(g.grain, x*1.3, y*1.3)), min(1, max(0, 0.5-out/w)))
	}
	lit := func(sky float64, vis [2]float64) colour {
		e := g.s.light.ambient.times(sky)
		for k := range g.s.light.lamps {
			e = e.plus(g.s.light.lamps[k].colour.times(p.lamps[k] * vis[k]))
		}
		return e
	}
	if g.s.ruler == nil {
		return albedo.by(lit(sky, vis))
	}
	return g.ruled(p, albedo, sky, vis, lit)
}

// ruled lays the ruler over what is below it: its top 1 mm nearer to the camera,
// its flank, its shadow.
func (g *ground) ruled(p place, below colour, sky float64, vis [2]float64, lit func(float64, [2]float64) colour) colour {
	r, c := g.s.ruler, g.s.lens.c
	own := func(x, y float64) (float64, float64) {
		x, y = x-r.x, y-r.y
		return x*g.rcos + y*g.rsin, y*g.rcos - x*g.rsin
	}
	out := func(x, y float64) float64 {
		return max(-rulerMargin-x, x-rulerLength-rulerMargin, -y, y-rulerWidth)
	}
	x0, y0 := own(p.x, p.y)
	low := out(x0, y0)
	if low > 8 {
		return below.by(lit(sky, vis))
	}
	w := (p.wx + p.wy) / 2
	x1, y1, high := x0, y0, 0.0
	for range r.looks() {
		high = r.top(x1)
		up := high / c.Z
		x1, y1 = own(p.x+(c.X-p.x)*up, p.y+(c.Y-p.y)*up)
	}
	top := min(1, max(0, 0.5-out(x1, y1)/w))
	if top == 1 {
		return g.face(x1, y1, w).by(lit(sky, vis))
	}
	shadow := vis
	for k := range g.s.light.lamps {
		l := g.s.light.lamps[k].at
		sx, sy := own(p.x+(l.X-p.x)*high/l.Z, p.y+(l.Y-p.y)*high/l.Z)
		soft := w + g.s.light.lamps[k].size*2*high/l.Z
		shadow[k] *= 1 - min(1, max(0, 0.5-out(sx, sy)/soft))
	}
	all := below.by(lit(sky*(1-0.5*math.Exp(-max(0, low)/0.7)), shadow))
	if side := min(1, max(0, 0.5-low/w)); side > 0 {
		all = all.mix(r.base.times(0.55).by(lit(sky*0.7, vis)), side)
	}
	return all.mix(g.face(x1, y1, w).by(lit(sky, vis)), top)
}

// face is the ruler's top: ticks each mm, longer each 5 and 10, and figures.
func (g *ground) face(x, y, w float64) colour {
	r := g.s.ruler
	base := r.base
	if r.steel {
		base = base.times(1 + 0.05*noise(g.grain, x*0.15, y*9) + 0.02*noise(g.grain, x*2, y*3))
	} else {
		base = base.times(1 + 0.006*noise(g.grain, x, y))
	}
	tick := math.Round(x)
	if tick >= 0 && tick <= rulerLength {
		long := 3.2
		switch int(tick) % 10 {
		case 0:
			long = 6.5
		case 5:
			long = 4.8
		}
		const half = 0.09
		v := min(y, rulerWidth-y) // from the nearer edge
		base = base.mix(r.ink, 0.92*cover(x-tick, half, w)*min(1, max(0, 0.5+(long-v)/w)))
	}
	ink, _ := r.sheet.at(x, y)
	return base.mix(r.ink, ink)
}

// wood is the table's colour.
func (g *ground) wood(p place) colour {
	t := &g.s.table
	x, y := p.x*g.tcos+p.y*g.tsin, p.y*g.tcos-p.x*g.tsin
	bend := 4 * noise(g.grain, x*0.02, y*0.06)
	v := 0.5*noise(g.grain, x*0.012+9, (y+bend)*0.11) +
		0.35*noise(g.grain, x*0.06, (y+bend)*0.9) + 0.25*noise(g.grain, x*0.2, y*3.1+50)
	c := t.light.mix(t.dark, min(1, max(0, 0.5+0.3*t.stripe*v)))
	return c.times(1 + t.fine*noise(g.grain, p.x*2.7, p.y*2.7))
}

// print is the mat's colour: its stuff, the grid, and what the sheet carries.
func (g *ground) print(p place) colour {
	m := &g.s.mat
	x, y := p.x/m.scale[0], p.y/m.scale[1]
	wx, wy := p.wx/m.scale[0], p.wy/m.scale[1]
	blot := noise(g.grain, x*0.21, y*0.21)
	fine := noise(g.grain, x*2.9+31, y*2.9)
	c := m.base.times(max(0.2, 1+m.blots*blot+m.texture*fine))
	i, j := math.Round(x/m.pitch), math.Round(y/m.pitch)
	width, height := float64(m.cols)*m.pitch, float64(m.rows)*m.pitch
	inside := x > -1 && y > -1 && x < width+1 && y < height+1
	ink := 0.0
	if inside {
		half, strength := m.line(int(i), m.cols)
		up := strength * cover(x-i*m.pitch, half, wx) * cover(y-height/2, height/2+half, wy)
		half, strength = m.line(int(j), m.rows)
		across := strength * cover(y-j*m.pitch, half, wy) * cover(x-width/2, width/2+half, wx)
		ink = max(up, across)
	}
	print, worn := m.sheet.at(x, y)
	ink = max(ink, print)
	if ink > 0 {
		c = c.mix(m.ink, ink*(0.94-0.05*blot-0.04*fine))
	}
	if worn > 0 {
		c = c.mix(m.base.mix(colour{0.6, 0.6, 0.6}, 0.45), worn)
	}
	return c
}

// line is half the width, mm, and the strength of the i-th of n lines.
func (m *mat) line(i, n int) (half, strength float64) {
	if i%m.every == 0 || i == n {
		return m.bold / 2, 1
	}
	return m.thin / 2, m.strength
}
