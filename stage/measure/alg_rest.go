package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// rim is a blunt end's edge, seen as part of an ellipse.
type rim struct {
	s, r  float64 // station and radius, mm
	turn  float64 // rotation of the axis, in the plane through the camera, that fits it best, rad
	uTurn float64
	rms   float64 // pixels
	n     int
}

// crossing is where the edge crosses the plane of symmetry: an end of the body.
type crossing struct {
	at r2.Vec  // pixel
	s  float64 // station where its ray meets the axis
	i  int     // last edge point before it
}

// crossings lists the ends in the order of their stations. Between two good
// points on either side the place is interpolated.
func (v view) crossings(a axis, skip []bool) (lo, hi crossing, ok bool) {
	plane := r3.Unit(r3.Cross(a.u, r3.Sub(v.cam.C, a.p)))
	side := func(i int) float64 { return r3.Dot(v.sight[i].d, plane) }
	var all []crossing
	last := -1
	n := len(v.edge)
	for k := range 2 * n { // twice round, to begin behind the first good point
		i := k % n
		if !v.edge[i].good || skip[i] {
			continue
		}
		if last >= 0 && k >= n && (side(last) < 0) != (side(i) < 0) {
			f := side(last) / (side(last) - side(i))
			px := r2.Add(v.edge[last].at, r2.Scale(f, r2.Sub(v.edge[i].at, v.edge[last].at)))
			all = append(all, crossing{px, a.meets(v.cam.C, v.cam.Ray(px)), last})
		}
		last = i
	}
	if len(all) < 2 {
		return lo, hi, false
	}
	lo, hi = all[0], all[0]
	for _, c := range all {
		if c.s < lo.s {
			lo = c
		}
		if c.s > hi.s {
			hi = c
		}
	}
	return lo, hi, hi.s > lo.s
}

// meets is the station at which a ray in the plane of the axis crosses it.
func (a axis) meets(c, d r3.Vec) float64 {
	// The place of the axis nearest to the ray: minimise |p + s·u - c - t·d|.
	w := r3.Sub(c, a.p)
	du, dw, uw := r3.Dot(d, a.u), r3.Dot(d, w), r3.Dot(a.u, w)
	return (uw - du*dw) / (1 - du*du)
}

// endRun is the stretch of edge on both sides of an end that lies within reach,
// mm, of the plane of symmetry: of a blunt end of that radius, most of its rim.
func (v view) endRun(a axis, skip []bool, c crossing, reach float64) run {
	n := len(v.edge)
	plane := r3.Unit(r3.Cross(a.u, r3.Sub(v.cam.C, a.p)))
	far := r3.Norm(r3.Sub(r3.Add(a.p, r3.Scale(c.s, a.u)), v.cam.C))
	count := func(from, dir int) int {
		last, miss := 0, 0
		for k := 1; k < n/3 && miss <= 5; k++ {
			i := ((from+dir*k)%n + n) % n
			if v.edge[i].good && !skip[i] && math.Abs(r3.Dot(v.sight[i].d, plane))*far < reach {
				last, miss = k, 0
			} else {
				miss++
			}
		}
		return last
	}
	back, on := count(c.i+1, -1), count(c.i, 1)
	return run{((c.i+1-back)%n + n) % n, back + on}
}

// rimReach is the share of a rim's radius within which its edge is read; past it
// the corner's own blur begins.
const rimReach = 0.88

// rimPixel is the noise of one edge point, pixels, that a known turn is weighed
// against, and anyTurn the doubt of a turn of which nothing is known.
const (
	rimPixel = 0.2
	anyTurn  = 0.2 // rad
	// rimCorner is how sure, mm, the sides are of a rim's radius, carried to the
	// corner from a little way in.
	rimCorner = 0.2
)

// fitRim fits a circle about the axis to an end's edge: station, radius and a
// turn of the axis about the place where the circle stands, the turn held to
// nought within uTurn. A point of the edge
// is laid on the circle's plane along its ray; how far it falls from the circle
// is turned back into pixels along the edge's normal. (That the ellipse of a rim
// fixes the slope that the sides leave open is the calibrated case of Colombo,
// Del Bimbo & Pernici, IEEE PAMI 27 (2005) 99-114.)
func (v view) fitRim(a axis, r run, start spot, uTurn float64) (out rim, ok bool) {
	n := len(v.edge)
	var pts [][2]r3.Vec // rays at each point and a quarter of a pixel outside it
	for k := range r.n {
		if e := v.edge[(r.from+k)%n]; e.good {
			pts = append(pts, [2]r3.Vec{v.cam.Ray(e.at), v.cam.Ray(r2.Add(e.at, r2.Scale(rimOutside, e.out)))})
		}
	}
	if len(pts) < 20 {
		return rim{}, false
	}
	p := [3]float64{start.s, start.r, 0}
	normal := r3.Unit(r3.Cross(a.u, r3.Sub(v.cam.C, a.p)))
	resid := func(p [3]float64, e [2]r3.Vec) float64 {
		return rimResidual(v, a, normal, p, e)
	}
	h := [3]float64{1e-3, 1e-3, 1e-4}
	var cov [3][3]float64
	for iter := range 15 {
		scale := 3.0
		if iter > 4 {
			scale = 0.5
		}
		var m [4][5]float64
		m[3][3] = 1
		m[2][2] = rimPixel * rimPixel / (uTurn * uTurn)
		m[2][4] = -p[2] * m[2][2]
		m[1][1] = rimPixel * rimPixel / (rimCorner * rimCorner)
		m[1][4] = (start.r - p[1]) * m[1][1]
		ss, sw := 0.0, 0.0
		for _, e := range pts {
			f := resid(p, e)
			if math.IsNaN(f) {
				continue
			}
			w := 1 / (1 + f*f/(scale*scale))
			var g [3]float64
			for k := range g {
				q := p
				q[k] += h[k]
				g[k] = (resid(q, e) - f) / h[k]
			}
			for i := range g {
				for j := range g {
					m[i][j] += w * g[i] * g[j]
				}
				m[i][4] -= w * g[i] * f
			}
			ss += w * f * f
			sw += w
		}
		if sw < 8 {
			return rim{}, false
		}
		out.rms = math.Sqrt(ss / sw)
		d, solved := solve4(m)
		if !solved {
			return rim{}, false
		}
		p[0] += limit(d[0], 2)
		p[1] = max(p[1]+limit(d[1], 2), 0.3)
		p[2] += limit(d[2], 0.05)
		if iter == 14 {
			for k := range 3 {
				unit := m
				for i := range 4 {
					unit[i][4] = 0
				}
				unit[k][4] = 1
				col, _ := solve4(unit)
				for i := range 3 {
					cov[i][k] = col[i]
				}
			}
		}
	}
	out.s, out.r, out.turn, out.n = p[0], p[1], p[2], len(pts)
	// Edge points a pixel apart share noise over about five, and the side colours,
	// which change along a rim, bias the edge by some two tenths of a pixel.
	noise := max(out.rms, rimPixel) * math.Sqrt(5)
	out.uTurn = noise * math.Sqrt(cov[2][2])
	return out, true
}

// rimOutside is the step, pixels, by which a distance on the rim's plane is
// turned into pixels.
const rimOutside = 0.25

func rimResidual(v view, a axis, normal r3.Vec, p [3]float64, rays [2]r3.Vec) float64 {
	u := r3.Rotate(a.u, p[2], normal)
	centre := r3.Add(a.p, r3.Scale(p[0], a.u))
	to := r3.Dot(r3.Sub(centre, v.cam.C), u)
	var off [2]float64
	for k, d := range rays {
		du := r3.Dot(d, u)
		if math.Abs(du) < 1e-4 {
			return math.NaN()
		}
		off[k] = r3.Norm(r3.Sub(r3.Add(v.cam.C, r3.Scale(to/du, d)), centre)) - p[1]
	}
	if grad := math.Abs(off[1]-off[0]) / rimOutside; grad > 1e-9 {
		return off[0] / grad
	}
	return math.NaN()
}

// restLine is the axis of a body at rest on a flat mat, from the points (s, r)
// that may touch it: the supporting line of their upper hull over the station of
// the weight, for where a body lies, the line through its two touching places,
// has the weight between them.
func restLine(pts []spot, weight float64) (first, second spot, ok bool) {
	var hull []spot // upper hull, stations rising
	for _, p := range pts {
		for len(hull) > 1 {
			a, b := hull[len(hull)-2], hull[len(hull)-1]
			if (b.s-a.s)*(p.r-a.r)-(b.r-a.r)*(p.s-a.s) < 0 {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	for i := 1; i < len(hull); i++ {
		a, b := hull[i-1], hull[i]
		if a.s <= weight && weight <= b.s && b.s > a.s {
			return a, b, true
		}
	}
	return spot{}, spot{}, false
}

// touchStation is the place that a body rests on at one place only, its slope (radians,
// up along the axis) known.
func touchStation(pts []spot, slope float64) (at spot) {
	sin, cos := math.Sincos(slope)
	best := math.Inf(-1)
	for _, p := range pts {
		if h := p.r*cos - p.s*sin; h > best {
			best, at = h, p
		}
	}
	return at
}
