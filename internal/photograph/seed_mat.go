package photograph

import (
	"fmt"
	"math"
	"strconv"
)

// mats are the colours that cutting mats are sold in, as shares of linear light.
var mats = []struct {
	name      string
	base, ink colour
}{
	{"green", colour{0.012, 0.115, 0.07}, colour{0.55, 0.62, 0.28}},
	{"green", colour{0.02, 0.16, 0.085}, colour{0.75, 0.78, 0.62}},
	{"blue", colour{0.02, 0.10, 0.33}, colour{0.8, 0.84, 0.88}},
	{"blue", colour{0.015, 0.05, 0.16}, colour{0.6, 0.66, 0.4}},
	{"grey", colour{0.16, 0.17, 0.175}, colour{0.75, 0.75, 0.73}},
	{"grey", colour{0.32, 0.33, 0.33}, colour{0.85, 0.85, 0.83}},
	{"black", colour{0.022, 0.022, 0.024}, colour{0.5, 0.5, 0.48}},
	{"black", colour{0.03, 0.03, 0.03}, colour{0.62, 0.56, 0.2}},
	{"pink", colour{0.62, 0.16, 0.3}, colour{0.9, 0.86, 0.86}},
	{"pink", colour{0.7, 0.3, 0.42}, colour{0.95, 0.92, 0.92}},
}

func (m *maker) chooseMat() {
	mat := &m.s.mat
	kind := mats[m.IntN(len(mats))]
	switch m.trap {
	case trapDark:
		kind = mats[4+2*m.IntN(2)]
	case trapSteel:
		kind = mats[4+m.IntN(2)]
	case trapHue:
		kind = mats[m.IntN(4)]
	}
	mat.name, mat.base, mat.ink = kind.name, kind.base.times(m.between(0.85, 1.15)), kind.ink
	mat.pitch, mat.every = 10, 5
	if m.chance(0.15) {
		mat.every = 10
	}
	mat.inch = m.trap == trapHalfInch || m.trap == trapInch || m.also(0.12)
	if mat.inch {
		mat.pitch, mat.every = 12.7, pick(m, 2, 2, 4)
		if m.trap == trapInch || m.trap != trapHalfInch && m.chance(0.4) {
			mat.pitch, mat.every = 25.4, pick(m, 3, 4, 6)
		}
	}
	mat.cols, mat.rows = m.sides()
	mat.scale = [2]float64{1, 1}
	if m.trap == trapMisprint || m.trap == trapMisprintAlone || m.also(0.06) {
		both := pick(m, -1.0, 1) * m.between(0.005, 0.017)
		mat.scale = [2]float64{1 + both + m.between(-0.003, 0.003), 1 + both + m.between(-0.003, 0.003)}
	}
	mat.border = m.between(12, 24)
	mat.thin, mat.bold = m.between(0.25, 0.45), m.between(0.5, 0.85)
	mat.strength = m.between(0.55, 1)
	mat.texture, mat.blots = m.between(0.03, 0.1), m.between(0.02, 0.08)
	m.prints()
}

// sides chooses a mat of a size that is sold and that the body fits on.
func (m *maker) sides() (cols, rows int) {
	sizes := [][2]float64{{280, 200}, {300, 220}, {400, 280}, {400, 280}, {430, 290}, {570, 400}, {570, 400}}
	need := 2*m.s.body.reach + 50
	for range 20 {
		size := sizes[m.IntN(len(sizes))]
		if size[0] > need && size[1] > 0.62*need {
			return int(size[0] / m.s.mat.pitch), int(size[1] / m.s.mat.pitch)
		}
	}
	return int(570 / m.s.mat.pitch), int(400 / m.s.mat.pitch)
}

// prints lists what stands on the mat besides its grid: figures along the border,
// ticks, slanting lines, words, and what knives have left.
func (m *maker) prints() {
	mat := &m.s.mat
	w, h := float64(mat.cols)*mat.pitch, float64(mat.rows)*mat.pitch
	line := func(ax, ay, bx, by, width, strength float64, worn bool) {
		mat.prints = append(mat.prints, stroke{ax, ay, bx, by, width, strength, worn})
	}
	step, long := 1.0, [3]float64{1.6, 2.4, 3.2}
	if mat.inch {
		step = 25.4 / 8
	}
	tick := func(k int) float64 {
		switch {
		case mat.inch && k%8 == 0 || !mat.inch && k%10 == 0:
			return long[2]
		case mat.inch && k%4 == 0 || !mat.inch && k%5 == 0:
			return long[1]
		}
		return long[0]
	}
	allRound := m.chance(0.4)
	for k := 0; float64(k)*step <= w+1e-9; k++ {
		x := float64(k) * step
		line(x, 0, x, -tick(k), 0.18, 0.9, false)
		if allRound {
			line(x, h, x, h+tick(k), 0.18, 0.9, false)
		}
	}
	for k := 0; float64(k)*step <= h+1e-9; k++ {
		y := float64(k) * step
		line(0, y, -tick(k), y, 0.18, 0.9, false)
		if allRound {
			line(w, y, w+tick(k), y, 0.18, 0.9, false)
		}
	}
	unit := 10.0
	if mat.inch {
		unit = 25.4
	}
	size := func(k int) float64 {
		if k%5 == 0 || mat.inch {
			return 2.8
		}
		return 1.7
	}
	for k := 0; float64(k)*unit <= w+1e-9; k++ {
		x := float64(k) * unit
		mat.words = append(mat.words, label{strconv.Itoa(k), x, -5.6, size(k), 0}, label{strconv.Itoa(k), x, h + 5.4, size(k), 0})
	}
	for k := 0; float64(k)*unit <= h+1e-9; k++ {
		y := float64(k) * unit
		mat.words = append(mat.words, label{strconv.Itoa(k), -6.2, y, size(k), 0}, label{strconv.Itoa(k), w + 6, y, size(k), 0})
	}
	for _, deg := range [2]float64{45, 60} {
		if m.chance(0.75) {
			from := math.Round(m.between(0, 0.4)*w/mat.pitch) * mat.pitch
			run := min(h/math.Tan(deg*math.Pi/180), w-from)
			line(from, 0, from+run, run*math.Tan(deg*math.Pi/180), mat.thin, 0.8, false)
		}
	}
	if m.chance(0.15) { // a protractor's rays
		for deg := 15; deg < 90; deg += 15 {
			sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
			r := min(w, h) * 0.6
			line(0, 0, r*cos, r*sin, mat.thin, 0.6, false)
		}
	}
	names := []string{"Bramble & Vane  board 3", "Ostler bench sheet", "cut here, not there", "Quillon 45/60", "Mossfield workroom mat"}
	scale := "1 cm"
	if mat.inch {
		scale = "1 in"
	}
	mat.words = append(mat.words, label{fmt.Sprintf("%s   %s", pick(m, names...), scale), w * m.between(0.2, 0.8), -10.2, 3, 0})
	for range 10 + m.IntN(60) {
		x, y := m.between(-5, w+5), m.between(-5, h+5)
		a, n := m.between(0, math.Pi), m.between(8, 120)
		if m.chance(0.3) {
			a = math.Round(a/(math.Pi/2))*math.Pi/2 + m.between(-0.02, 0.02)
		}
		line(x, y, x+n*math.Cos(a), y+n*math.Sin(a), m.between(0.08, 0.3), m.between(0.1, 0.7), true)
	}
}

// printSheets draws what the lists say, as fine as the picture shows it.
func (s *Scene) printSheets() {
	m := &s.mat
	pixel := s.lens.c.Z / s.lens.f
	w, h, b := float64(m.cols)*m.pitch, float64(m.rows)*m.pitch, m.border
	m.sheet = newSheet(-b, -b, w+b, h+b, max(0.07, 0.8*pixel))
	for _, l := range m.prints {
		on := m.sheet.ink
		if l.worn {
			on = m.sheet.worn
		}
		m.sheet.line(on, l.ax, l.ay, l.bx, l.by, l.width, l.strength)
	}
	for _, l := range m.words {
		m.sheet.text(l.text, l.x, l.y, l.height, l.quarters, 0.95)
	}
	if r := s.ruler; r != nil {
		drawn := *r
		drawn.sheet = newSheet(-rulerMargin, 0, rulerLength+rulerMargin, rulerWidth, max(0.07, 0.8*pixel))
		for k := 0; k <= rulerLength; k += 10 {
			drawn.sheet.text(strconv.Itoa(k), float64(k), 10, 2.6, 0, 0.9)
		}
		s.ruler = &drawn
	}
}

func (m *maker) chooseTable() {
	tables := []table{
		{light: colour{0.42, 0.24, 0.11}, dark: colour{0.2, 0.1, 0.045}, stripe: 1},
		{light: colour{0.62, 0.45, 0.26}, dark: colour{0.45, 0.3, 0.16}, stripe: 0.8},
		{light: colour{0.6, 0.58, 0.54}, dark: colour{0.32, 0.31, 0.29}, stripe: 1},
		{light: colour{0.11, 0.06, 0.035}, dark: colour{0.05, 0.03, 0.02}, stripe: 1},
		{light: colour{0.7, 0.7, 0.68}, dark: colour{0.66, 0.66, 0.65}, stripe: 0.3},
		{light: colour{0.2, 0.2, 0.21}, dark: colour{0.18, 0.18, 0.19}, stripe: 0.3},
	}
	m.s.table = tables[m.IntN(len(tables))]
	m.s.table.angle, m.s.table.fine = m.between(0, math.Pi), m.between(0.01, 0.04)
}

func (m *maker) chooseRuler() {
	s := m.s
	s.ruler = nil
	if m.trap == trapNoRuler || m.trap == trapMisprintAlone || m.trap != trapMisprint && m.trap != trapRuler && m.also(0.18) {
		return
	}
	mat, b := &s.mat, s.body
	w, h := float64(mat.cols)*mat.pitch, float64(mat.rows)*mat.pitch
	for {
		r := &ruler{steel: m.chance(0.55)}
		if r.steel {
			r.base, r.ink = colour{0.5, 0.5, 0.5}, colour{0.08, 0.08, 0.08}
		} else {
			r.base, r.ink = colour{0.8, 0.8, 0.77}, colour{0.04, 0.04, 0.05}
		}
		if m.trap == trapRuler || m.chance(0.25) {
			// Beside the body, so close that they overlap in the picture.
			r.angle = b.azimuth*180/math.Pi + m.between(-6, 6) + 180*float64(m.IntN(2))
			sin, cos := math.Sincos(r.angle * math.Pi / 180)
			mid := b.world(b.middle())
			off := m.between(0.4, 1.15)*b.rmax + rulerWidth/2
			if m.chance(0.5) {
				off = -off
			}
			along := m.between(-60, 60) - rulerLength/2
			r.x = mid.X + along*cos - (off-rulerWidth/2)*sin
			r.y = mid.Y + along*sin + (off-rulerWidth/2)*cos
			for k := 0; s.strikes(r) && k < 40; k++ {
				side := math.Copysign(1, off)
				r.x, r.y = r.x-side*sin, r.y+side*cos
			}
		} else {
			r.angle = pick(m, 0.0, 0, 90, 180, 270, 0) + m.between(-8, 8)
			r.x, r.y = m.between(-20, w), m.between(-20, h)
		}
		if !s.strikes(r) && s.onMat(r) {
			s.ruler = r
			return
		}
	}
}

// onMat reports whether at least 80 mm of the ruler lie on the grid.
func (s *Scene) onMat(r *ruler) bool {
	sin, cos := math.Sincos(r.angle * math.Pi / 180)
	n := 0
	for k := 0; k <= rulerLength; k += 10 {
		x, y := r.x+float64(k)*cos-rulerWidth/2*sin, r.y+float64(k)*sin+rulerWidth/2*cos
		if x > 0 && y > 0 && x < float64(s.mat.cols)*s.mat.pitch && y < float64(s.mat.rows)*s.mat.pitch {
			n++
		}
	}
	return n >= 9
}

// strikes reports whether the body would cut into the ruler where it lies.
func (s *Scene) strikes(r *ruler) bool {
	sin, cos := math.Sincos(r.angle * math.Pi / 180)
	for _, p := range s.body.hull() {
		if p.Z > rulerThick+0.3 {
			continue
		}
		x, y := p.X-r.x, p.Y-r.y
		x, y = x*cos+y*sin, y*cos-x*sin
		if x > -rulerMargin-1 && x < rulerLength+rulerMargin+1 && y > -1 && y < rulerWidth+1 {
			return true
		}
	}
	return false
}

// chooseCard lays a sheet of paper over a corner of the mat.
func (m *maker) chooseCard() {
	s := m.s
	if m.trap != trapPartMat && !m.also(0.06) {
		return
	}
	w, h := float64(s.mat.cols)*s.mat.pitch, float64(s.mat.rows)*s.mat.pitch
	for range 50 {
		c := &card{
			x: pick(m, 0.0, w) + m.between(-20, 20), y: pick(m, 0.0, h) + m.between(-20, 20), angle: m.between(0, math.Pi),
			w: m.between(40, 75), h: m.between(50, 105), colour: pick(m, colour{0.82, 0.81, 0.78}, colour{0.5, 0.36, 0.22}, colour{0.75, 0.2, 0.12}),
		}
		s.card = c
		clear := s.enough()
		sin, cos := math.Sincos(c.angle)
		for _, p := range s.body.hull() {
			x, y := p.X-c.x, p.Y-c.y
			if math.Abs(x*cos+y*sin) < c.w+15 && math.Abs(y*cos-x*sin) < c.h+15 {
				clear = false
				break
			}
		}
		if clear {
			return
		}
	}
	s.card = nil
}

func (m *maker) chooseFinish() {
	s := m.s
	kind := pick(m, "matte_white", "painted", "brass", "steel", "near black", "mat's hue", "matte_white")
	switch m.trap {
	case trapDark:
		kind = "near black"
	case trapSteel:
		kind = "steel"
	case trapHue:
		kind = "mat's hue"
	case trapMirror:
		kind = pick(m, "brass", "steel")
	case trapNone:
		kind = pick(m, "matte_white", "painted")
	}
	f := finish{name: kind}
	switch kind {
	case "matte_white":
		f.diffuse, f.rough = colour{0.82, 0.8, 0.76}, 0.5
	case "painted":
		paints := []colour{{0.6, 0.05, 0.03}, {0.7, 0.5, 0.04}, {0.05, 0.12, 0.45}, {0.75, 0.74, 0.7}, {0.04, 0.25, 0.1}, {0.6, 0.25, 0.03}}
		f.diffuse, f.mirror, f.rough = pick(m, paints...), colour{0.04, 0.04, 0.04}, m.between(0.05, 0.3)
		for range m.IntN(4) {
			at := m.between(0, s.body.length)
			f.bands = append(f.bands, band{at, at + m.between(3, 30), pick(m, paints...)})
		}
	case "brass":
		f.diffuse, f.mirror, f.rough = colour{0.1, 0.07, 0.02}, colour{0.78, 0.56, 0.2}, m.between(0.04, 0.16)
		f.turned = m.between(0, 0.012)
	case "steel":
		f.diffuse, f.mirror, f.rough = colour{0.08, 0.08, 0.08}, colour{0.52, 0.51, 0.5}, m.between(0.04, 0.2)
		f.turned = m.between(0, 0.012)
	case "near black":
		k := m.between(0.012, 0.03)
		f.diffuse, f.mirror, f.rough = colour{k, k, k * 1.08}, colour{0.045, 0.045, 0.045}, m.between(0.08, 0.3)
		f.turned = m.between(0, 0.01)
	case "mat's hue":
		f.diffuse = s.mat.base.times(m.between(0.8, 1.9))
		for k := range f.diffuse {
			f.diffuse[k] = min(0.85, f.diffuse[k]*m.between(0.9, 1.1))
		}
		f.mirror, f.rough = colour{0.03, 0.03, 0.03}, m.between(0.15, 0.4)
	}
	s.finish = f
}
