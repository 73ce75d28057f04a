package measure

import "math"

// form is a turned body's outline as it is fitted: lines, arcs and faces that share
// their joints, stations rising.
type form struct {
	joints []joint
	spans  []span // spans[i] runs from joints[i] to joints[i+1]
}

// joint is where two spans meet, or an end. An end on the axis is a tip.
type joint struct{ s, r float64 }

// spanKind is what a span is.
type spanKind uint8

const (
	lineSpan spanKind = iota
	arcSpan
	faceSpan // square to the axis: both joints at one station
)

// span is a line, an arc or a face.
type span struct {
	kind spanKind
	rise float64 // of an arc over its chord, mm, outwards
}

func (f *form) clone() form {
	return form{append([]joint(nil), f.joints...), append([]span(nil), f.spans...)}
}

// arc is a circle in the half plane; its radius is below nought where it is hollow.
type arc struct{ s, r, bend float64 }

// flatRise is the least rise that an arc is reckoned with, mm: less and its centre runs
// off to where differences are lost.
const flatRise = 1e-5

// risesMost is the most that an arc between two joints may rise without running back
// along the axis: at its ends it turns from the chord by 2·atan(2·rise/chord), up to square
// to the axis.
func risesMost(a, b joint) float64 {
	ds, dr := b.s-a.s, math.Abs(b.r-a.r)
	return math.Hypot(ds, dr) / 2 * math.Tan(math.Atan2(ds, dr)/2)
}

// arcOver is the circle of an arc by its ends and its rise.
func arcOver(a, b joint, rise float64) arc {
	if math.Abs(rise) < flatRise {
		rise = math.Copysign(flatRise, rise)
	}
	ds, dr := b.s-a.s, b.r-a.r
	c := math.Hypot(ds, dr)
	bend := (c*c/4 + rise*rise) / (2 * rise)
	up := rise - bend // from the chord's middle to the centre
	return arc{(a.s+b.s)/2 - up*dr/c, (a.r+b.r)/2 + up*ds/c, bend}
}

// normal is the turn of an arc's normal at one of its places.
func (a arc) normal(p joint) float64 {
	ds, dr := p.s-a.s, p.r-a.r
	if a.bend < 0 {
		ds, dr = -ds, -dr
	}
	return limitTurn(math.Atan2(ds, dr))
}

func limitTurn(psi float64) float64 { return max(-math.Pi/2, min(math.Pi/2, psi)) }

// turns reports whether a joint of the form lies between two stations.
func (f *form) turns(lo, hi float64) bool {
	for _, j := range f.joints {
		if lo < j.s && j.s < hi {
			return true
		}
	}
	return false
}

// at is the form's radius at a station, the larger one at a step, and its slope.
func (f *form) at(s float64) (r, slope float64) {
	for i, g := range f.spans {
		a, b := f.joints[i], f.joints[i+1]
		if s < a.s || s > b.s {
			continue
		}
		if g.kind == faceSpan || a.s == b.s {
			r = max(r, a.r, b.r)
			continue
		}
		t := (s - a.s) / (b.s - a.s)
		y, m := a.r+t*(b.r-a.r), (b.r-a.r)/(b.s-a.s)
		if g.kind == arcSpan && math.Abs(g.rise) > flatRise {
			c := arcOver(a, b, g.rise)
			h := math.Sqrt(max(0, c.bend*c.bend-(s-c.s)*(s-c.s)))
			y = c.r + math.Copysign(h, c.bend)
			m = 0
			if h > 0 {
				m = -math.Copysign((s-c.s)/h, c.bend)
			}
		}
		if y >= r {
			r, slope = y, m
		}
	}
	return r, slope
}
