package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ring is an edge that runs round the body (a shoulder, a groove, a change of
// colour) as the photograph shows it between the two sides.
type ring struct {
	s, r  float64 // station and radius, mm
	bow   float64 // how far it bows along the axis from side to top, mm
	uBow  float64
	count int
}

// How rings are looked for.
const (
	ringStep   = 0.2  // mm along the axis
	ringAngles = 49   // readings round the body
	ringSpread = 0.95 // rad each way from the top of the view
	ringReach  = 1.2  // mm either side of its station that a ring is followed
	ringShare  = 0.7  // of the angles must show it
	ringFit    = 0.12 // mm, rms of a ring's places about its bow
	ringLeast  = 0.03 // least change of light, of one, that makes a ring
)

// unrolled is the body's surface laid flat: brightness by angle and station.
type unrolled struct {
	from   float64
	light  [ringAngles][]float64
	radius []float64 // NaN where the profile is not seen
}

// unroll reads the picture at places of the surface, the angle counted from the
// half plane that looks at the camera.
func (v view) unroll(p *picture, a axis, prof []station) unrolled {
	across := r3.Unit(r3.Cross(a.u, r3.Sub(v.cam.C, a.p)))
	up := r3.Cross(across, a.u)
	from, to := prof[0].s+1, prof[len(prof)-1].s-1
	n := max(0, int((to-from)/ringStep))
	out := unrolled{from: from, radius: make([]float64, n)}
	for k := range n {
		out.radius[k] = widest(prof, from+ringStep*float64(k))
	}
	for i := range out.light {
		angle := ringSpread * (2*float64(i)/(ringAngles-1) - 1)
		sin, cos := math.Sincos(angle)
		e := r3.Add(r3.Scale(cos, up), r3.Scale(sin, across))
		row := make([]float64, n)
		for k := range row {
			if math.IsNaN(out.radius[k]) {
				continue
			}
			s := from + ringStep*float64(k)
			x := r3.Add(a.p, r3.Add(r3.Scale(s, a.u), r3.Scale(out.radius[k], e)))
			px, ok := v.cam.Project(x)
			if !ok {
				continue
			}
			c := p.at(px.X, px.Y)
			row[k] = math.Log(c[0] + c[1] + c[2] + lightFloor)
		}
		out.light[i] = row
	}
	return out
}

// widest is the largest radius seen within a millimetre of a station: at a step
// the rim that shows is the outer one.
func widest(prof []station, s float64) float64 {
	k := int(math.Round((s - prof[0].s) / stationStep))
	r := math.NaN()
	for j := max(0, k-2); j <= min(len(prof)-1, k+2); j++ {
		if prof[j].seen == notSeen {
			return math.NaN()
		}
		if math.IsNaN(r) || prof[j].r > r {
			r = prof[j].r
		}
	}
	return r
}

// rings finds rings and follows each round the body. A ring lies in a plane
// square to the axis, so on the true axis it unrolls to a straight line; an axis
// turned by δ in the plane of the view makes it bow by r·δ·cos(angle).
func (u unrolled) rings() (out []ring) {
	n := len(u.radius)
	if n < 20 {
		return nil
	}
	// Change of light along the axis, over two steps.
	var change [ringAngles][]float64
	mean := make([]float64, n)
	for i := range change {
		change[i] = make([]float64, n)
		for k := 2; k < n-2; k++ {
			change[i][k] = (u.light[i][k+1] + u.light[i][k+2] - u.light[i][k-1] - u.light[i][k-2]) / 2
		}
	}
	// Where to look: the middle third of the angles agrees on a change.
	for k := range mean {
		for i := ringAngles / 3; i < 2*ringAngles/3; i++ {
			mean[k] += change[i][k]
		}
	}
	typical := make([]float64, n)
	for k := range mean {
		mean[k] /= ringAngles/3 + 1
		typical[k] = math.Abs(mean[k])
	}
	floor := max(ringLeast, 4*median(typical))
	reach := int(ringReach / ringStep)
	for k := reach + 2; k < n-reach-2; k++ {
		if math.Abs(mean[k]) < floor || !alone(mean, k, reach) || math.IsNaN(u.radius[k]) || u.radius[k] < rimLeast {
			continue
		}
		if r, ok := u.followRing(change, k, reach, math.Signbit(mean[k])); ok {
			out = append(out, r)
		}
	}
	return out
}

// alone reports whether k is the one strong change within reach. Where two run
// side by side, as on a narrow groove, one is taken for the other on the way round.
func alone(v []float64, k, reach int) bool {
	m := math.Abs(v[k])
	for j := max(0, k-2*reach); j <= min(len(v)-1, k+2*reach); j++ {
		d, w := abs(j-k), math.Abs(v[j])
		if w > m || (d > reach/2 && w > m/2) {
			return false
		}
	}
	return true
}

func (u unrolled) followRing(change [ringAngles][]float64, k, reach int, falling bool) (ring, bool) {
	var x, y []float64
	for i := range change {
		best, at := 0.0, -1
		for j := k - reach; j <= k+reach; j++ {
			v := change[i][j]
			if falling {
				v = -v
			}
			if v > best {
				best, at = v, j
			}
		}
		if at <= k-reach || at >= k+reach {
			continue
		}
		// Top of the parabola through three readings.
		l, m, h := math.Abs(change[i][at-1]), math.Abs(change[i][at]), math.Abs(change[i][at+1])
		den := l - 2*m + h
		if den >= 0 {
			continue
		}
		angle := ringSpread * (2*float64(i)/(ringAngles-1) - 1)
		x = append(x, math.Cos(angle))
		y = append(y, u.from+ringStep*(float64(at)+0.5*(l-h)/den))
	}
	if float64(len(x)) < ringShare*ringAngles {
		return ring{}, false
	}
	w := make([]float64, len(x))
	for i := range w {
		w[i] = 1
	}
	var s0, bow, uBow, rms float64
	for range 6 {
		var sw, sx, sy, sxx, sxy float64
		for i := range x {
			sw, sx, sy = sw+w[i], sx+w[i]*x[i], sy+w[i]*y[i]
			sxx, sxy = sxx+w[i]*x[i]*x[i], sxy+w[i]*x[i]*y[i]
		}
		den := sw*sxx - sx*sx
		if den <= 0 {
			return ring{}, false
		}
		bow = (sw*sxy - sx*sy) / den
		s0 = (sy - bow*sx) / sw
		ss := 0.0
		resid := make([]float64, len(x))
		for i := range x {
			resid[i] = math.Abs(y[i] - s0 - bow*x[i])
			ss += w[i] * resid[i] * resid[i]
		}
		rms = math.Sqrt(ss / sw)
		scale := max(1.4826*median(resid), 0.01)
		for i := range w {
			w[i] = 1 / (1 + resid[i]*resid[i]/(4*scale*scale))
		}
		uBow = max(rms, 0.03) * math.Sqrt(3*sw/den) // neighbours share noise over some three readings
	}
	return ring{s0 + bow, u.radius[k], bow, uBow, len(x)}, rms < ringFit
}

// ringTurn is the turn of the axis that straightens the rings, each ring's say
// by its sureness, outvoted ones left out: marks on a body need not be rings.
func ringTurn(rings []ring) (turn, u float64, ok bool) {
	if len(rings) == 0 {
		return 0, 0, false
	}
	each := make([]float64, len(rings))
	for i, r := range rings {
		each[i] = r.bow / r.r
	}
	mid := median(each)
	var sum, weight float64
	for i, r := range rings {
		w := 1 / (math.Pow(r.uBow/r.r, 2) + rimDoubt*rimDoubt)
		if math.Abs(each[i]-mid) < 1*deg {
			sum += w * each[i]
			weight += w
		}
	}
	// The scatter between rings tells more than each one's own sureness.
	ss := 0.0
	for i, r := range rings {
		w := 1 / (math.Pow(r.uBow/r.r, 2) + rimDoubt*rimDoubt)
		if math.Abs(each[i]-mid) < 1*deg {
			d := each[i] - sum/weight
			ss += w * d * d
		}
	}
	birge := max(1, math.Sqrt(ss/max(1, float64(len(rings)-1))))
	return sum / weight, birge / math.Sqrt(weight), true
}
