package turning

import "math"

// Volume is what the region sweeps in one turn, mm³. Each band is the
// difference of two frusta, V = πh(R² + Rr + r²)/3, which is Pappus's theorem
// for a trapezoid on the axis.
func (r Region) Volume() float64 {
	v := 0.0
	for _, s := range r.slabs {
		for _, b := range s.bands {
			v += frustum(s.z1-s.z0, b.out0, b.out1) - frustum(s.z1-s.z0, b.in0, b.in1)
		}
	}
	return v
}

func frustum(h, a, b float64) float64 { return math.Pi * h * (a*a + a*b + b*b) / 3 }

// Share is the part of a turned volume that n flats keep: the area of the
// regular polygon inscribed in a circle over the circle's.
func Share(n int) float64 {
	a := 2 * math.Pi / float64(n)
	return math.Sin(a) / a
}
