package solid

import "math"

// Ray is a half-line from a point, made by [NewRay]. The zero value meets
// nothing.
type Ray struct {
	origin, direction Vec
	reach             float64
	// The direction's largest component is along axis[2]; axis[0] and axis[1]
	// follow so that the frame stays right-handed when it is looked along.
	axis  [3]int
	shear [2]float64 // what a step of 1 along axis[2] moves along the other two
	along float64    // the component along axis[2]
}

// NewRay returns the ray from a point. A hit at origin + T·direction is looked
// for with T from 0 to reach; math.Inf(1) is no limit. The direction need not
// have length 1.
func NewRay(origin, direction Vec, reach float64) (Ray, error) {
	for _, x := range origin {
		if !(math.Abs(x) <= maxTreeCoordinate) {
			return Ray{}, &ValueError{"coordinate of the ray's origin", x, "at most 1e50"}
		}
	}
	if !direction.finite() || direction == (Vec{}) {
		return Ray{}, &ValueError{"length of the ray's direction", direction.Length(), "positive and finite"}
	}
	if !(reach >= 0) {
		return Ray{}, &ValueError{"reach of the ray", reach, "0 or more"}
	}
	return newRay(origin, direction, reach), nil
}

func newRay(origin, direction Vec, reach float64) Ray {
	r := Ray{origin: origin, direction: direction, reach: reach}
	k := 0
	for i := 1; i < 3; i++ {
		if math.Abs(direction[i]) > math.Abs(direction[k]) {
			k = i
		}
	}
	r.axis = [3]int{(k + 1) % 3, (k + 2) % 3, k}
	r.along = direction[k]
	if r.along < 0 {
		r.axis[0], r.axis[1] = r.axis[1], r.axis[0]
	}
	for i := range 2 {
		r.shear[i] = direction[r.axis[i]] / r.along
	}
	return r
}

// Hit is where a ray meets a triangle.
type Hit struct {
	T        float64 // the place is origin + T·direction
	Triangle int32
	Leaving  bool // the ray goes from the inside to the outside
	At       Vec
}

// meet returns where along axis[2] the ray's line passes through a triangle, and
// whether it leaves through it.
//
// Every corner is moved to the ray's frame: the origin at 0, the ray along the
// third axis (S. Woop, C. Benthin and I. Wald, "Watertight ray/triangle
// intersection", J. Comput. Graph. Tech. 2 (2013) 65–82). What a corner becomes
// depends on the corner and the ray alone, so the shadow of a closed surface is a
// closed surface, and the sign on which side of an edge's shadow the ray passes
// is exact: a difference of two rounded products has the right sign or is 0,
// and where it is 0 the exact predicate decides. Where the ray passes through the
// shadow of an edge, it counts as moved by (ε, ε²), ε positive and smaller than
// any number. So a ray through an edge or a corner meets as many triangles
// forwards as backwards, and a line always leaves a closed surface as often as
// it enters it.
func (r *Ray) meet(a, b, c *Vec) (t float64, leaving, met bool) {
	x, y, z := r.axis[0], r.axis[1], r.axis[2]
	az, bz, cz := a[z]-r.origin[z], b[z]-r.origin[z], c[z]-r.origin[z]
	ax := a[x] - r.origin[x] - float64(r.shear[0]*az)
	bx := b[x] - r.origin[x] - float64(r.shear[0]*bz)
	cx := c[x] - r.origin[x] - float64(r.shear[0]*cz)
	ay := a[y] - r.origin[y] - float64(r.shear[1]*az)
	by := b[y] - r.origin[y] - float64(r.shear[1]*bz)
	cy := c[y] - r.origin[y] - float64(r.shear[1]*cz)
	u := float64(bx*cy) - float64(by*cx)
	v := float64(cx*ay) - float64(cy*ax)
	w := float64(ax*by) - float64(ay*bx)
	if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
		return 0, false, false
	}
	if u == 0 || v == 0 || w == 0 {
		side := raySide(bx, by, cx, cy)
		if side == 0 || raySide(cx, cy, ax, ay) != side || raySide(ax, ay, bx, by) != side {
			return 0, false, false
		}
		leaving = side > 0
	} else {
		leaving = u > 0
	}
	det := u + v + w
	if det == 0 { // all three underflowed
		return (az + bz + cz) / 3, leaving, true
	}
	return (float64(u*az) + float64(v*bz) + float64(w*cz)) / det, leaving, true
}

// raySide returns on which side of the line from p to q the point (ε, ε²) lies;
// 0 only where p = q.
func raySide(px, py, qx, qy float64) Turning {
	if s := Orient(Point{}, Point{px, py}, Point{qx, qy}); s != Straight {
		return s
	}
	if py != qy {
		return turningOf(py - qy)
	}
	return turningOf(qx - px)
}

// rayWalk is what the search of a tree needs of a ray.
type rayWalk struct {
	near, far Vec // the origin, moved so that no rounding loses a box
	inverse   Vec
	sign      [3]int // 1 where the direction is negative
}

// rayError bounds how far the rounding of meet and of the box test can move a
// triangle across the ray, in units of the largest distance between the ray's
// origin and a corner along an axis: 6u for the shear (three roundings of terms
// no larger than the distance, the slope being at most 1), 3u for the box test
// (a difference, a reciprocal and a product), and room; u = 2⁻⁵³.
const rayError = 16 * 0x1p-53

func (r *Ray) walk(b *Bounds) rayWalk {
	reach := 0.0
	for k := range 3 {
		reach = max(reach, math.Abs(b.Min[k]-r.origin[k]), math.Abs(b.Max[k]-r.origin[k]))
	}
	slack := rayError * reach
	var w rayWalk
	for k := range 3 {
		// Along axis[2] in steps of ±1, so that no inverse there is infinite.
		d := r.direction[k] / math.Abs(r.along)
		w.inverse[k] = 1 / d
		// To the next number outwards: far from 0 the slack alone may be lost.
		w.near[k] = math.Nextafter(r.origin[k]+slack, math.Inf(1))
		w.far[k] = math.Nextafter(r.origin[k]-slack, math.Inf(-1))
		if d < 0 || d == 0 && math.Signbit(d) {
			w.sign[k] = 1
			w.near[k], w.far[k] = w.far[k], w.near[k]
		}
	}
	return w
}
