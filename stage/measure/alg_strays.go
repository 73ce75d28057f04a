package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// strayLimit is how far, in pixels, a point may stand off from the curve of its
// neighbours: printed lines that end at the edge pull single points by more.
const strayLimit = 0.7

// rejectStrays marks points that lie off a parabola through the points half
// before to half after. The parabola gives little weight to points that stand
// off it, and follows a round nose, which a line would cut.
func rejectStrays(edge []edgePoint, half int) {
	n := len(edge)
	bad, off := make([]bool, n), make([]bool, n)
	for i, e := range edge {
		if !e.good {
			continue
		}
		along := r2.Vec{X: -e.out.Y, Y: e.out.X}
		var x, y []float64
		for k := -half; k <= half; k++ {
			if q := edge[((i+k)%n+n)%n]; q.good && k != 0 {
				d := r2.Sub(q.at, e.at)
				x = append(x, r2.Dot(d, along)/float64(half))
				y = append(y, r2.Dot(d, e.out))
			}
		}
		by, ok := parabolaAtZero(x, y)
		off[i] = ok && math.Abs(by) > strayLimit
		bad[i] = !ok || off[i]
	}
	for i := range edge {
		edge[i].stray = off[i]
		edge[i].good = edge[i].good && !bad[i]
	}
}

// parabolaAtZero fits a parabola by reweighted least squares and reads it at nought.
func parabolaAtZero(x, y []float64) (float64, bool) {
	if len(x) < 6 {
		return 0, false
	}
	w := make([]float64, len(x))
	for i := range w {
		w[i] = 1
	}
	value := 0.0
	for range 4 {
		var m [4][5]float64
		m[3][3] = 1
		for i := range x {
			g := [3]float64{1, x[i], x[i] * x[i]}
			for a := range g {
				for b := range g {
					m[a][b] += w[i] * g[a] * g[b]
				}
				m[a][4] += w[i] * g[a] * y[i]
			}
		}
		q, ok := solve4(m)
		if !ok {
			return 0, false
		}
		value = q[0]
		for i := range w {
			r := y[i] - q[0] - q[1]*x[i] - q[2]*x[i]*x[i]
			w[i] = 1 / (1 + r*r/(0.3*0.3))
		}
	}
	return value, true
}
