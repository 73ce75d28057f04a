package measure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// spot is one place of the recovered profile: station, radius, and the index
// of its edge point.
type spot struct {
	s, r float64
	i    int
}

// halves are the recovered profile's two sides, each sorted by station.
type halves [2][]spot

// split sorts touching places by the side of the plane through the camera and
// the axis that they lie on. Places near that plane belong to the ends and are
// left out: there the touching plane turns from one side to the other.
func split(a axis, c r3.Vec, edge []edgePoint, sight []sight) (h halves) {
	across := r3.Unit(r3.Cross(a.u, r3.Sub(c, a.p)))
	for i, g := range sight {
		if !edge[i].good {
			continue
		}
		t := a.contact(c, g)
		if !t.ok || t.r < 0 {
			continue
		}
		switch x := r3.Dot(t.e, across); {
		case x > sideways:
			h[0] = append(h[0], spot{t.s, t.r, i})
		case x < -sideways:
			h[1] = append(h[1], spot{t.s, t.r, i})
		}
	}
	for k := range h {
		slices.SortStableFunc(h[k], func(p, q spot) int { return cmp.Compare(p.s, q.s) })
	}
	return h
}

// sideways is the sine of the least angle from the plane of symmetry at which a
// place counts as lying on a side.
const sideways = 0.5

// local is the radius at a station from the places near it.
type local struct {
	r, slope, u float64
	n           int
	ok          bool
}

// at fits a line to the places within reach of a station, giving less weight to
// those that stand off, and reads it at the station. Spots must be sorted.
func at(spots []spot, s, reach float64) local {
	lo, _ := slices.BinarySearchFunc(spots, s-reach, func(p spot, x float64) int { return cmp.Compare(p.s, x) })
	hi, _ := slices.BinarySearchFunc(spots, s+reach, func(p spot, x float64) int { return cmp.Compare(p.s, x) })
	near := spots[lo:hi]
	if len(near) < 3 {
		return local{}
	}
	w := make([]float64, len(near))
	for i := range w {
		w[i] = 1
	}
	var out local
	resid := make([]float64, len(near))
	for range 4 {
		var sw, sx, sy, sxx, sxy float64
		for i, p := range near {
			x := p.s - s
			sw += w[i]
			sx += w[i] * x
			sy += w[i] * p.r
			sxx += w[i] * x * x
			sxy += w[i] * x * p.r
		}
		den := sw*sxx - sx*sx
		if den < 1e-9*sw*sw {
			return local{}
		}
		out.slope = (sw*sxy - sx*sy) / den
		out.r = (sy - out.slope*sx) / sw
		ss := 0.0
		for i, p := range near {
			resid[i] = math.Abs(p.r - out.r - out.slope*(p.s-s))
			ss += w[i] * resid[i] * resid[i]
		}
		scale := max(1.4826*median(resid), 0.005)
		for i := range w {
			w[i] = min(1, 1.5*scale/max(resid[i], 1e-12))
		}
		// Neighbouring points share some of their noise: a third of them count.
		free := max(float64(len(near))/3-1, 1)
		out.u = math.Sqrt(ss/sw/free) * math.Sqrt(sw*sxx/den)
	}
	out.n, out.ok = len(near), true
	return out
}

func median(v []float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	return s[len(s)/2]
}

// range of stations that both sides reach.
func (h halves) span() (from, to float64, ok bool) {
	if len(h[0]) < 10 || len(h[1]) < 10 {
		return 0, 0, false
	}
	from = max(h[0][0].s, h[1][0].s)
	to = min(h[0][len(h[0])-1].s, h[1][len(h[1])-1].s)
	return from, to, to > from
}
