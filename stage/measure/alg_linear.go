package measure

import "math"

// solve4 is Gauss's elimination with pivoting on a 4 × 5 system.
func solve4(n [4][5]float64) (x [4]float64, ok bool) {
	for c := range 4 {
		p := c
		for r := c + 1; r < 4; r++ {
			if math.Abs(n[r][c]) > math.Abs(n[p][c]) {
				p = r
			}
		}
		if math.Abs(n[p][c]) < 1e-12 {
			return x, false
		}
		n[c], n[p] = n[p], n[c]
		for r := range 4 {
			if r != c {
				f := n[r][c] / n[c][c]
				for k := c; k < 5; k++ {
					n[r][k] -= f * n[c][k]
				}
			}
		}
	}
	for c := range 4 {
		x[c] = n[c][4] / n[c][c]
	}
	return x, true
}

// inverse3 is a symmetric matrix's inverse.
func inverse3(n [3][3]float64) (inv [3][3]float64, ok bool) {
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return n[a][c]*n[b][d] - n[a][d]*n[b][c]
	}
	det := n[0][0]*minor(0, 0) + n[0][1]*minor(0, 1) + n[0][2]*minor(0, 2)
	if math.Abs(det) < 1e-18 {
		return inv, false
	}
	for i := range inv {
		for j := range inv {
			inv[i][j] = minor(j, i) / det
		}
	}
	return inv, true
}
