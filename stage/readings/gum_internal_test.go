package readings

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// The calibration of a thermometer of JCGM 100:2008, H.3: eleven corrections b at
// readings t, a straight line b = y1 + y2·(t - 20). Data and results as in the
// documentation of the GUM Tree Calculator (MSLNZ/GTC, docs/API/GUM_H3.rst), which
// says that they agree with the GUM: y1 = -0.1712(29), y2 = 0.00218(67), their
// correlation -0.93, the correction at 30 °C -0.1494(41); and with an offset of
// 0.005 that all b share, y1 -0.17120 ± 0.00577, y2 0.00218 ± 0.00067.
func TestThermometer(t *testing.T) {
	at := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	b := []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
	const vague = 10.0 // standard deviations of nobody's knowledge
	// Of the sum of squared residuals 0.000110096583109 with nine degrees of freedom.
	const s = 0.0034975647
	obs := func(shared float64) []observation {
		var out []observation
		for i := range at {
			out = append(out, observation{h: []float64{vague, vague * (at[i] - 20), shared}, off: b[i], square: s * s})
		}
		return out
	}
	for _, c := range []struct {
		name         string
		shared       float64
		u1, u2, at30 float64
	}{{"alone", 0, 0.0029, 0.00067, 0.0041}, {"with a shared offset", 0.005, 0.00577, 0.00067, 0}} {
		p := weigh(obs(c.shared), 3)
		y1, y2 := vague*p.x[0], vague*p.x[1]
		h1, h2 := []float64{vague, 0, 0}, []float64{0, vague, 0}
		u1, u2 := math.Sqrt(p.variance(h1)), math.Sqrt(p.variance(h2))
		if math.Abs(y1+0.17120) > 5e-6 || math.Abs(y2-0.0021827) > 5e-8 {
			t.Errorf("%s: y1 %.6f, y2 %.7f", c.name, y1, y2)
		}
		if math.Abs(u1-c.u1) > 5e-5 || math.Abs(u2-c.u2) > 5e-6 {
			t.Errorf("%s: u1 %.5f, want %.5f, u2 %.6f, want %.6f", c.name, u1, c.u1, u2, c.u2)
		}
		if c.shared == 0 {
			if r := dot(h1, p.covariance(h2)) / u1 / u2; math.Abs(r+0.93) > 0.005 {
				t.Errorf("correlation %.3f, want -0.93", r)
			}
			at30 := []float64{vague, 10 * vague, 0}
			if x, u := dot(at30, p.x), math.Sqrt(p.variance(at30)); math.Abs(x+0.1494) > 5e-5 || math.Abs(u-c.at30) > 5e-5 {
				t.Errorf("at 30 °C %.4f ± %.4f, want -0.1494 ± 0.0041", x, u)
			}
		}
	}
}

// The same estimate by another way: gonum's least squares (QR) on the whitened
// observations stacked over the unknowns' own, and the inverse of its normal matrix.
// The root squared is that inverse.
func TestWeighAgainstQR(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, m := rapid.IntRange(1, 6).Draw(t, "unknowns"), rapid.IntRange(1, 8).Draw(t, "observations")
		var obs []observation
		a := mat.NewDense(m+q, q, nil)
		y := mat.NewDense(m+q, 1, nil)
		for i := range m {
			o := observation{square: rapid.Float64Range(0.01, 4).Draw(t, "square"), off: rapid.Float64Range(-5, 5).Draw(t, "off")}
			u := math.Sqrt(o.square)
			for j := range q {
				o.h = append(o.h, rapid.Float64Range(-3, 3).Draw(t, "h"))
				a.Set(i, j, o.h[j]/u)
			}
			y.Set(i, 0, o.off/u)
			obs = append(obs, o)
		}
		for j := range q {
			a.Set(m+j, j, 1)
		}
		var want, normal, inverse mat.Dense
		if err := want.Solve(a, y); err != nil {
			t.Fatal(err)
		}
		normal.Mul(a.T(), a)
		if err := inverse.Inverse(&normal); err != nil {
			t.Fatal(err)
		}
		p := weigh(obs, q)
		for j := range q {
			if math.Abs(p.x[j]-want.At(j, 0)) > 1e-8 {
				t.Fatalf("x[%d] = %v, want %v", j, p.x[j], want.At(j, 0))
			}
			for k := range q {
				e, f := make([]float64, q), make([]float64, q)
				e[j], f[k] = 1, 1
				if got := dot(e, p.covariance(f)); math.Abs(got-inverse.At(j, k)) > 1e-8 {
					t.Fatalf("cov[%d,%d] = %v, want %v", j, k, got, inverse.At(j, k))
				}
				if got := dot(p.shrunk(e), p.shrunk(f)); math.Abs(got-inverse.At(j, k)) > 1e-8 {
					t.Fatalf("root² [%d,%d] = %v, want %v", j, k, got, inverse.At(j, k))
				}
			}
		}
	})
}
