package assembly

// passes reports whether x may come to its place past y from the nose, both
// turned on the axis: at every radius y ends before x begins.
func passes(x, y *thing) bool {
	blocked := 0.0
	for i, j := 0, 0; i < len(x.rows) && j < len(y.rows); {
		a, b := x.rows[i], y.rows[j]
		in, out := max(a.in, b.in), min(a.out, b.out)
		if in < out {
			d0 := at(b.high0, b.high1, b, in) - at(a.low0, a.low1, a, in)
			d1 := at(b.high0, b.high1, b, out) - at(a.low0, a.low1, a, out)
			blocked += (out - in) * above(d0-meets, d1-meets)
		}
		if a.out < b.out {
			i++
		} else {
			j++
		}
	}
	return blocked <= rubs
}

func at(v0, v1 float64, r row, radius float64) float64 {
	return v0 + (radius-r.in)/(r.out-r.in)*(v1-v0)
}

// above is the share of a stretch on which a straight line is positive.
func above(d0, d1 float64) float64 {
	switch {
	case d0 <= 0 && d1 <= 0:
		return 0
	case d0 > 0 && d1 > 0:
		return 1
	case d0 > 0:
		return d0 / (d0 - d1)
	}
	return d1 / (d1 - d0)
}
