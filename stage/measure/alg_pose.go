package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// pose is an axis by four numbers that are nearly independent of each other:
// how far it lies off the line between two image points, in pixels at each, and
// its height above the mat at each. The first two follow from the symmetry of
// the two sides; the silhouette says nothing of the other two, since every axis
// in the plane through the camera makes the two sides alike.
type pose struct {
	a, b   r2.Vec  // image points near the object's ends
	la, lb float64 // offsets across the line from a to b, pixels
	ha, hb float64 // heights of the axis at the rays of a and b, mm
}

// axis is the line in the world, station 0 at the ray of a.
func (q pose) axis(cam *camera.Camera) (axis, bool) {
	d := r2.Unit(r2.Sub(q.b, q.a))
	n := r2.Vec{X: -d.Y, Y: d.X}
	p, ok1 := cam.OnPlane(r2.Add(q.a, r2.Scale(q.la, n)), q.ha)
	o, ok2 := cam.OnPlane(r2.Add(q.b, r2.Scale(q.lb, n)), q.hb)
	if !ok1 || !ok2 || r3.Norm(r3.Sub(o, p)) < 1 {
		return axis{}, false
	}
	return axis{p, r3.Unit(r3.Sub(o, p))}, true
}

// view is a silhouette as one camera sees it.
type view struct {
	cam   *camera.Camera
	edge  []edgePoint
	sight []sight
}

// symmetric moves the axis sideways until the two sides of the profile agree:
// Gauss-Newton on the difference of their radii at stations 1 mm apart, with
// Cauchy weights whose scale shrinks from millimetres, so that fins and
// handles, where the sides need not agree, lose their say. (The axis of
// symmetry of a silhouette is that of its harmonic homology; Mendonça, Wong &
// Cipolla, IEEE PAMI 23 (2001) 604-616. With a known camera it is enough to look
// for the plane through its centre.)
func (v view) symmetric(q pose, near bool) (pose, bool) {
	scales := []float64{4, 2, 1, 0.5, 0.25, 0.12, 0.08, 0.08}
	if near { // started from an axis that was found before
		scales = scales[5:]
	}
	for _, scale := range scales {
		d0, s0, ok := v.differences(q)
		if !ok {
			return q, false
		}
		const h = 0.5 // pixels; the differences are nearly linear in the offsets
		qa, qb := q, q
		qa.la += h
		qb.lb += h
		da, _, ok1 := v.differences(qa)
		db, _, ok2 := v.differences(qb)
		if !ok1 || !ok2 {
			return q, false
		}
		var aa, ab, bb, ra, rb float64
		for k, d := range d0 {
			if math.IsNaN(d) || k >= len(da) || k >= len(db) || math.IsNaN(da[k]) || math.IsNaN(db[k]) {
				continue
			}
			w := 1 / (1 + d*d/(scale*scale))
			ja, jb := (da[k]-d)/h, (db[k]-d)/h
			aa, ab, bb = aa+w*ja*ja, ab+w*ja*jb, bb+w*jb*jb
			ra, rb = ra+w*ja*d, rb+w*jb*d
		}
		det := aa*bb - ab*ab
		if det <= 1e-12*aa*bb || len(s0) == 0 {
			return q, false
		}
		q.la -= limit((bb*ra-ab*rb)/det, 20)
		q.lb -= limit((aa*rb-ab*ra)/det, 20)
	}
	return q, true
}

func limit(x, most float64) float64 { return max(-most, min(most, x)) }

// differences returns left less right radius at whole stations from the
// station of image point a, NaN where a side says nothing.
func (v view) differences(q pose) (d, stations []float64, ok bool) {
	a, ok := q.axis(v.cam)
	if !ok {
		return nil, nil, false
	}
	h := split(a, v.cam.C, v.edge, v.sight)
	from, to, ok := h.span()
	if !ok || to-from > 5000 {
		return nil, nil, false
	}
	// Fixed stations, so that differences of neighbouring poses compare like
	// with like: they start at a whole number below every station in play.
	const base = -100
	for s := float64(base); s <= to; s++ {
		x := math.NaN()
		if s >= from {
			l, r := at(h[0], s, 1), at(h[1], s, 1)
			if l.ok && r.ok {
				x = l.r - r.r
			}
		}
		d, stations = append(d, x), append(stations, s)
	}
	return d, stations, true
}
