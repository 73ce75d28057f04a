package measure

import (
	"math"
	"testing"
)

// stepOf is a step of light at a place, blurred, its tint by more: mat outside, and inside a
// limb's colour that passes over to another within so many pixels.
func stepOf(place, blur float64, mat, limb, body colour, over float64) step {
	at := func(x float64) colour { // x outwards of the edge
		if x > 0 {
			return mat
		}
		var c colour
		share := min(1, -x/over)
		for k := range c {
			c[k] = limb[k] + share*(body[k]-limb[k])
		}
		return c
	}
	s := step{reach: stepReach, clear: true}
	d := lightAndTint(at(-(innerFrom+innerTo)/2).minus(mat), 1)
	size := math.Sqrt(d.dot(d))
	s.along = colour{d[0] / size, d[1] / size, d[2] / size}
	for t := -stepReach; t <= stepReach; t += edgeStep {
		var v colour
		sum := 0.0
		for u := -4.0; u <= 4; u += 0.05 {
			w := math.Exp(-u * u / 2)
			light := lightAndTint(at(t+u*blur-place).minus(mat), size)
			tint := lightAndTint(at(t+u*math.Hypot(blur, tintBlur)-place).minus(mat), size)
			v[0], v[1], v[2] = v[0]+w*light[0], v[1]+w*tint[1], v[2]+w*tint[2]
			sum += w
		}
		s.v, s.skip = append(s.v, colour{v[0] / sum, v[1] / sum, v[2] / sum}), append(s.skip, false)
	}
	return s
}

// A limb of another colour than the body behind it does not draw the edge inwards: a brass
// needle on a blue mat, at its rim of a brown that is as dark, and nearly white within.
func TestStepOfTwoColours(t *testing.T) {
	blue, brown, brass := colour{0.02, 0.09, 0.3}, colour{0.17, 0.06, 0.03}, colour{0.95, 0.78, 0.3}
	for _, over := range [2]float64{5, 6} {
		for _, place := range [2]float64{0, 0.7} {
			s := stepOf(place, 1, blue, brown, brass, over)
			half, _ := s.crossing()
			got, _, _, ok := s.fit(1)
			if !ok || math.Abs(got-place) > 0.15 || math.Abs(half-place) < 0.6 {
				t.Errorf("over %v px: %.2f of %.2f (half-way at %.2f)", over, got, place, half)
			}
		}
	}
}

// Of one colour alone the step is found where it is, and its doubt is small.
func TestStepOfOneColour(t *testing.T) {
	grey, white := colour{0.2, 0.2, 0.2}, colour{0.8, 0.8, 0.8}
	for _, place := range [3]float64{-1.2, 0, 0.6} {
		got, sigma, left, ok := stepOf(place, 0.9, grey, white, white, 1).fit(0.9)
		if !ok || math.Abs(got-place) > 0.03 || sigma > 0.05 || left > 0.01 {
			t.Errorf("%.3f of %.2f, doubt %.3f, %.4f left", got, place, sigma, left)
		}
	}
}

// What is left in tint says nothing of the place of a step that is of light alone.
func TestStepLeaves(t *testing.T) {
	for _, c := range []struct {
		info colour
		want float64
	}{{colour{1, 0, 0}, 2}, {colour{0, 2, 2}, 5}, {colour{3, 1, 0}, math.Sqrt((3*4 + 25) / 4.0)}} {
		n := stepNormals{info: c.info, left: colour{4, 25, 25}, count: 5}
		if got := n.rms(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v: %.3f is left, want %.3f", c.info, got, c.want)
		}
	}
}
