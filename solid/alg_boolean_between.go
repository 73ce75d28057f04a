package solid

import "math"

// The three functions below find points on lines. They start from the nearer end,
// where the error is smaller, and never leave the stretch they were given, so that
// what lies exactly on an axis or in a face along the axes stays there, and what is
// apart by its box is apart by its comparisons too.

// share returns the nearer end of a stretch (0 or 1), and which part of the
// stretch lies between it and the place d0 from one end and d1 from the other;
// d1 − d0 is the length. Where that is nothing, the place is the first end.
func share(d0, d1 float64) (near int, part float64) {
	length := d1 - d0
	if math.Abs(d0) > math.Abs(d1) {
		near, part = 1, d1/length
	} else {
		part = d0 / length
	}
	if part-part != 0 { // 0/0
		return 0, 0
	}
	return near, part
}

// along returns the value between v[0] and v[1] that is the given part from the
// near one.
func along(v [2]float64, near int, part float64) float64 {
	// From end 0 the part is −d0/… of the way up, from end 1 d1/… of it down:
	// both are subtracted, since d0 ≤ 0 ≤ d1 or the other way round.
	x := v[near] - float64(part*(v[1]-v[0]))
	return min(max(x, min(v[0], v[1])), max(v[0], v[1]))
}

// edgeAt returns y and z of the edge from b0 to b1 at x.
func edgeAt(b0, b1 Vec, x float64) (y, z float64) {
	near, part := share(b0[0]-x, b1[0]-x)
	return along([2]float64{b0[1], b1[1]}, near, part), along([2]float64{b0[2], b1[2]}, near, part)
}

// between returns z at y on the line through two points (y, z).
func between(l, r Point, y float64) float64 {
	near, part := share(l[0]-y, r[0]-y)
	return along([2]float64{l[1], r[1]}, near, part)
}

// crossing returns where two lines that pass the same two values of x cross in
// the x–y plane, and their heights there. y is taken from the flatter line.
func crossing(pl, pr, ql, qr Vec) (x, y, zp, zq float64) {
	near, part := share(ql[1]-pl[1], qr[1]-pr[1])
	x = along([2]float64{pl[0], pr[0]}, near, part)
	if math.Abs(pr[1]-pl[1]) < math.Abs(qr[1]-ql[1]) {
		y = along([2]float64{pl[1], pr[1]}, near, part)
	} else {
		y = along([2]float64{ql[1], qr[1]}, near, part)
	}
	return x, y, along([2]float64{pl[2], pr[2]}, near, part), along([2]float64{ql[2], qr[2]}, near, part)
}
