package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// seen says what a station of the profile rests on.
type seen uint8

const (
	notSeen seen = iota
	oneSide
	bothSides
)

// station is one place of the recovered profile, stations counted from the
// axis' own origin.
type station struct {
	s, r, slope float64
	u           float64 // of the edge alone, mm
	seen        seen
	most        float64 // where the sides differ: the larger of the two
}

// stationStep is the spacing of the profile, mm.
const stationStep = 0.5

// Sides are taken to differ when their radii lie farther apart than this, mm:
// beyond any edge noise, below any fin or handle.
const sidesDiffer = 0.25

// profile reads the radius at even stations from both sides.
func (v view) profile(a axis, skip []bool, from, to float64) []station {
	h := split(a, v.cam.C, v.kept(skip), v.sight)
	n := int(math.Floor((to-from)/stationStep)) + 1
	if n < 2 || n > 20000 {
		return nil
	}
	out := make([]station, n)
	left, right := make([]local, n), make([]local, n)
	for k := range out {
		s := from + stationStep*float64(k)
		left[k], right[k] = at(h[0], s, readReach), at(h[1], s, readReach)
	}
	trust := sideNoise(left, right, mmPerPixel(v, a)*edgeFloor)
	for k := range out {
		s := from + stationStep*float64(k)
		l, r := left[k], right[k]
		st := station{s: s}
		lu, ru := max(l.u, trust), max(r.u, trust)
		switch {
		case l.ok && r.ok && math.Abs(l.r-r.r) < sidesDiffer:
			wl, wr := 1/(lu*lu), 1/(ru*ru)
			st.r, st.slope = (wl*l.r+wr*r.r)/(wl+wr), (wl*l.slope+wr*r.slope)/(wl+wr)
			st.u = math.Hypot(1/math.Sqrt(wl+wr), 0.25*max(0, math.Abs(l.r-r.r)-3*trust))
			st.seen = bothSides
		case l.ok && r.ok: // settled once the neighbours are known
			st.r, st.slope, st.u, st.seen = l.r, l.slope, lu, notSeen
			st.most = max(l.r, r.r)
		case l.ok:
			st.r, st.slope, st.u, st.seen = l.r, l.slope, lu, oneSide
		case r.ok:
			st.r, st.slope, st.u, st.seen = r.r, r.slope, ru, oneSide
		}
		out[k] = st
	}
	settle(out, h, trust)
	bends(out)
	return out
}

// readReach is how far, mm, from a station its radius is read: wide enough for
// seven edge points a side, short enough to keep a 2 mm groove.
const readReach = 0.75

// edgeFloor is the least doubt of one side's edge, pixels: the 8-bit steps and
// the compression of the file leave some twentieth at best.
const edgeFloor = 0.05

// edgeBias is the standard uncertainty, pixels, of an edge on both sides alike, which no
// difference of sides can show: what the model of limb and blur leaves. Matte bodies err by
// some hundredths, glossy ones, which fade into their surroundings at the limb, by a third
// and more (two dozen drawn photographs); which it is a photograph hardly tells.
const edgeBias = 0.2

// An edge that lies off the outline point by point errs along whole stretches as well, as
// polished and dark bodies' do: past what good ones leave, pixels by the mean, there is so
// many times as much doubt of both sides alike. Of some eighty drawn photographs those with
// less held the truth along nearly all their stations, those with more along two thirds.
const (
	offUsual = 0.45
	offAlike = 2.0
)

// bias is the standard uncertainty, pixels, of the edge on both sides alike.
func (v view) bias(o *solution) float64 {
	off := v.ofBody(o).off(o)
	return math.Hypot(edgeBias, offAlike*math.Sqrt(max(0, off*off-offUsual*offUsual)))
}

// sideNoise is the doubt of one side's reading as the two sides themselves show
// it: the scatter of their differences over √2, where both are seen, by the
// median so that fins do not count.
func sideNoise(left, right []local, least float64) float64 {
	var d []float64
	for k := range left {
		if left[k].ok && right[k].ok {
			d = append(d, math.Abs(left[k].r-right[k].r))
		}
	}
	if len(d) < 10 {
		return 2 * least
	}
	return max(least, 1.4826*median(d)/math.Sqrt2)
}

// mmPerPixel at the axis' origin.
func mmPerPixel(v view, a axis) float64 {
	return r3.Norm(r3.Sub(v.cam.C, a.p)) / v.cam.F
}

// settle decides short stretches where the sides differ: a printed line or a
// scratch that ends at the edge pulls one side off for a few millimetres. The
// side nearer to the straight line between the stretch's two ends is taken. A
// longer stretch, or one where neither side is near, is not seen.
func settle(out []station, h halves, trust float64) {
	const longest = 12.0 // mm
	for i := 0; i < len(out); i++ {
		if out[i].seen != notSeen {
			continue
		}
		j := i
		for j < len(out) && out[j].seen == notSeen {
			j++
		}
		if i > 2 && j < len(out)-2 && out[j].s-out[i].s < longest {
			a, b := out[i-1], out[j]
			for k := i; k < j; k++ {
				t := (out[k].s - a.s) / (b.s - a.s)
				// Cubic between the ends with their slopes: curved bodies stay curved.
				want := hermite(a.r, a.slope, b.r, b.slope, b.s-a.s, t)
				l, r := at(h[0], out[k].s, readReach), at(h[1], out[k].s, readReach)
				for _, c := range []local{l, r} {
					gap := math.Abs(c.r - want)
					if c.ok && gap < sidesDiffer && (out[k].seen == notSeen || gap < math.Abs(out[k].r-want)) {
						out[k].r, out[k].slope, out[k].seen = c.r, c.slope, oneSide
						out[k].u = math.Hypot(max(c.u, trust), gap/2)
					}
				}
			}
		}
		i = j
	}
}

func hermite(r0, m0, r1, m1, d, t float64) float64 {
	t2, t3 := t*t, t*t*t
	return (2*t3-3*t2+1)*r0 + (t3-2*t2+t)*d*m0 + (-2*t3+3*t2)*r1 + (t3-t2)*d*m1
}

// bends adds doubt where the profile turns within the reach of a reading: near
// corners and steps the reading is a blend of both sides of the corner.
func bends(out []station) {
	const far = 2 // stations
	extra := make([]float64, len(out))
	for k := range out {
		if k < far || k+far >= len(out) || out[k].seen == notSeen || out[k-far].seen == notSeen || out[k+far].seen == notSeen {
			continue
		}
		// The second difference of noise alone is √6 of one reading's.
		bend := math.Abs(out[k-far].r - 2*out[k].r + out[k+far].r)
		extra[k] = 0.25 * max(0, bend-math.Sqrt(6)*out[k].u)
	}
	for k := range out {
		out[k].u = math.Hypot(out[k].u, extra[k])
	}
}
