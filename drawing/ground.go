package drawing

import "math"

// Ground is a raster of places of a drawing that are set or not, half a millimetre
// apart: where leaders may not cross, where a name may stand. Make one with
// [NewGround].
type Ground struct {
	area       Rect
	wide, high int
	set        []bool
	any        bool
}

// maskPerMM: a bar's edge is kept to half a millimetre of paper, a leader's dot.
const maskPerMM = 2.0

// A mask is no larger than this a side; a larger drawing has none.
const mostMask = 4000

// NewGround is a raster of the area with nothing set. An area larger than any sheet
// has none, and nothing is ever set on it.
func NewGround(area Rect) *Ground {
	m := &Ground{area: area}
	w, h := area.W*maskPerMM, area.H*maskPerMM
	if w > 0 && h > 0 && w < mostMask && h < mostMask {
		m.wide, m.high = int(math.Ceil(w)), int(math.Ceil(h))
	}
	return m
}

// Fill sets the places that a path covers by winding, or clears them.
func (m *Ground) Fill(p *Path, to bool) {
	if m.wide == 0 {
		return
	}
	if m.set == nil {
		m.set = make([]bool, m.wide*m.high)
	}
	var f filler
	for _, l := range p.Moved(Pt(-m.area.X, -m.area.Y)).flat(maskPerMM) {
		f.polygon(l.points)
	}
	f.rows(m.wide, m.high, false, func(y, from int, cover []float64) {
		for i, c := range cover {
			if c >= 0.5 {
				m.set[y*m.wide+from+i] = to
				m.any = m.any || to
			}
		}
	})
}

func (m *Ground) at(p Point) bool {
	x, y := int((p.X-m.area.X)*maskPerMM), int((p.Y-m.area.Y)*maskPerMM)
	return x >= 0 && y >= 0 && x < m.wide && y < m.high && m.set[y*m.wide+x]
}

// across reports whether the way from a to b meets a place that is set; where it
// starts on one, the first stretch does not count.
func (m *Ground) across(a, b Point, start bool) bool {
	if !m.any {
		return false
	}
	n := int(math.Ceil(a.Dist(b)*maskPerMM)) + 1
	step := b.Sub(a).Mul(1 / float64(n))
	leaving := start
	for i := range n + 1 {
		on := m.at(a.Add(step.Mul(float64(i))))
		switch {
		case on && !leaving:
			return true
		case !on:
			leaving = false
		}
	}
	return leaving && start && m.at(b)
}

// Touches reports whether any place of a box is set.
func (m *Ground) Touches(b Rect) bool { return m.any && m.some(b, true) }

// Holds reports whether all places of a box are set.
func (m *Ground) Holds(b Rect) bool { return m.any && !m.some(b, false) }

// some reports whether any place of a box is as asked.
func (m *Ground) some(b Rect, set bool) bool {
	const step = 1 / maskPerMM
	for y := b.Y; y < b.Y+b.H+step; y += step {
		for x := b.X; x < b.X+b.W+step; x += step {
			if m.at(Pt(min(x, b.X+b.W), min(y, b.Y+b.H))) == set {
				return true
			}
		}
	}
	return false
}
