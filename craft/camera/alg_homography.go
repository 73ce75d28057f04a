package camera

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// homography is the plane map with H·(X, Y, 1) ~ (u, v, 1).
type homography [3][3]float64

// normaliser shifts points to their mean and scales them to a root mean square
// distance of √2 (Hartley 1997), without which the linear system is hopelessly
// conditioned for pixels in thousands.
func normaliser(pts []r2.Vec) (scale float64, mean r2.Vec) {
	for _, p := range pts {
		mean = r2.Add(mean, p)
	}
	mean = r2.Scale(1/float64(len(pts)), mean)
	ss := 0.0
	for _, p := range pts {
		ss += r2.Norm2(r2.Sub(p, mean))
	}
	return math.Sqrt(2 * float64(len(pts)) / ss), mean
}

// fitHomography is the normalised direct linear transform from four or more
// marks that are not on a line. ok is false when the system has more than one
// solution (three of four marks on a line).
func fitHomography(from, to []r2.Vec) (h homography, ok bool) {
	s1, m1 := normaliser(from)
	s2, m2 := normaliser(to)
	a := mat.NewDense(max(9, 2*len(from)), 9, nil)
	for i := range from {
		p := r2.Scale(s1, r2.Sub(from[i], m1))
		q := r2.Scale(s2, r2.Sub(to[i], m2))
		a.SetRow(2*i, []float64{-p.X, -p.Y, -1, 0, 0, 0, q.X * p.X, q.X * p.Y, q.X})
		a.SetRow(2*i+1, []float64{0, 0, 0, -p.X, -p.Y, -1, q.Y * p.X, q.Y * p.Y, q.Y})
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFullV) {
		return h, false
	}
	sv := svd.Values(nil)
	// A second null direction means that the marks do not fix the map. Clicks
	// are known to 1e-4 of the picture at best.
	if sv[7] < 1e-4*sv[0] {
		return h, false
	}
	var v mat.Dense
	svd.VTo(&v)
	var n homography
	for i := range 9 {
		n[i/3][i%3] = v.At(i, 8)
	}
	t1 := homography{{s1, 0, -s1 * m1.X}, {0, s1, -s1 * m1.Y}, {0, 0, 1}}
	back := homography{{1 / s2, 0, m2.X}, {0, 1 / s2, m2.Y}, {0, 0, 1}}
	return back.times(n).times(t1), true
}

func (h homography) times(g homography) (out homography) {
	for i := range 3 {
		for j := range 3 {
			out[i][j] = h[i][0]*g[0][j] + h[i][1]*g[1][j] + h[i][2]*g[2][j]
		}
	}
	return out
}

func (h homography) column(j int) r3.Vec { return r3.Vec{X: h[0][j], Y: h[1][j], Z: h[2][j]} }

// focal returns the focal length that a homography implies for square pixels
// and a known centre, from the two conditions that the mat's X and Y directions
// are at right angles and of equal length (Zhang 2000, equations 3 and 4, with
// only 1/f² unknown). ok is false where the view is too square to tell.
func (h homography) focal(cx, cy float64) (f float64, ok bool) {
	g := homography{{1, 0, -cx}, {0, 1, -cy}, {0, 0, 1}}.times(h)
	a, b := g.column(0), g.column(1)
	// Rows of [p]·(1/f²) = [q], solved by least squares.
	p := [2]float64{a.X*b.X + a.Y*b.Y, a.X*a.X + a.Y*a.Y - b.X*b.X - b.Y*b.Y}
	q := [2]float64{-a.Z * b.Z, b.Z*b.Z - a.Z*a.Z}
	den := p[0]*q[0] + p[1]*q[1]
	num := p[0]*p[0] + p[1]*p[1]
	if den <= 0 || num <= 0 {
		return 0, false
	}
	return math.Sqrt(num / den), true
}

// pose returns the camera that a homography implies for a given focal length
// and centre (Zhang 2000, section 3.1, the rotation made orthogonal by its
// singular value decomposition, appendix C).
func (h homography) pose(f, cx, cy float64) (Camera, bool) {
	k := homography{{1 / f, 0, -cx / f}, {0, 1 / f, -cy / f}, {0, 0, 1}}
	g := k.times(h)
	a, b, t := g.column(0), g.column(1), g.column(2)
	lambda := 2 / (r3.Norm(a) + r3.Norm(b))
	if t.Z < 0 { // the mat lies before the camera
		lambda = -lambda
	}
	a, b, t = r3.Scale(lambda, a), r3.Scale(lambda, b), r3.Scale(lambda, t)
	c := r3.Cross(a, b)
	m := mat.NewDense(3, 3, []float64{a.X, b.X, c.X, a.Y, b.Y, c.Y, a.Z, b.Z, c.Z})
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDFull) {
		return Camera{}, false
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	r.Mul(&u, v.T())
	cam := Camera{F: f, Cx: cx, Cy: cy}
	for i := range 3 {
		for j := range 3 {
			cam.R[i][j] = r.At(i, j)
		}
	}
	cam.C = r3.Scale(-1, cam.toWorld(t))
	// Z is up, so a camera that sees the printed side stands above it. A mirrored
	// set of marks gives one from below.
	return cam, cam.C.Z > 0 && mat.Det(&r) > 0
}
