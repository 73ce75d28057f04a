package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// step is the light across an edge: 1 at the inside colour, 0 at the outside one.
type step struct {
	reach float64
	v     []float64 // at -reach, -reach + edgeStep, …
	skip  []bool    // a printed line lies there
	clear bool
	lined bool // a printed line lies close outside
}

// leastContrast is the least difference of colour, in square root of light, that
// counts as an edge: about five grey steps of an 8-bit file.
const leastContrast = 0.03

func (m ground) readStep(at, out r2.Vec, reach float64) step {
	// Read a little beyond the reach for the side colours.
	const beyond = 2.0
	n := int(2*(reach+beyond)/edgeStep) + 1
	line, lined := make([]colour, n), make([]bool, n)
	for k := range line {
		t := -reach - beyond + edgeStep*float64(k)
		for _, side := range [3]float64{-1, 0, 1} {
			c := m.photo.at(at.X+t*out.X-side*out.Y, at.Y+t*out.Y+side*out.X)
			for j := range c {
				line[k][j] += c[j] / 3
			}
		}
		lined[k] = t > 0 && m.onLine(r2.Add(at, r2.Scale(t, out)))
	}
	side := int(beyond/edgeStep) + 3
	inner := middle(line[:side])
	s := step{reach: reach, lined: slices.Contains(lined[n/2:n/2+int(linedNear/edgeStep)], true)}
	var mat, ink []colour
	for k := n - 1; k > n/2; k-- {
		if !lined[k] && k > n/2+side && len(mat) < side {
			mat = append(mat, line[k])
		}
		if lined[k] && k < n/2+int(fitReach/edgeStep) {
			ink = append(ink, line[k])
		}
	}
	outer := m.bareAt(at)
	switch {
	case len(ink) > side: // along the edge runs a line: it is what lies outside
		outer = middle(ink)
		clear(lined)
	case len(mat) > 2:
		outer = middle(mat)
	}
	d := inner.minus(outer)
	contrast := 0.0
	for j := range d {
		contrast = max(contrast, math.Abs(math.Sqrt(inner[j])-math.Sqrt(outer[j])))
	}
	if contrast < leastContrast {
		return s
	}
	s.clear = true
	dd := d.dot(d)
	for k := range line {
		if k*2 >= int(2*beyond/edgeStep) && k < n-int(beyond/edgeStep) {
			s.v = append(s.v, line[k].minus(outer).dot(d)/dd)
			s.skip = append(s.skip, lined[k])
		}
	}
	return s
}

// onLine reports whether a printed line of the grid, its blur included, lies at a place
// of the mat that no ruler hides.
func (m ground) onLine(px r2.Vec) bool {
	at, ok := m.cam.OnPlane(px, 0)
	if !ok || !m.looks.printed {
		return false
	}
	if _, over := m.onRuler(px); over {
		return false
	}
	dx := math.Abs(at.X - math.Round(at.X/m.pitch[0])*m.pitch[0])
	dy := math.Abs(at.Y - math.Round(at.Y/m.pitch[1])*m.pitch[1])
	return min(dx, dy) < lineHalf+lineBlur/m.perMM()
}

// lineBlur is how far, pixels, the picture's blur carries a printed line's light.
const lineBlur = 1.5

// perMM is how many pixels a millimetre of the mat takes.
func (m ground) perMM() float64 { return m.cam.F / m.cam.Height() }

// middle is the median of each channel: one printed line among the samples does
// not move it.
func middle(line []colour) (c colour) {
	v := make([]float64, len(line))
	for j := range c {
		for k := range line {
			v[k] = line[k][j]
		}
		slices.Sort(v)
		c[j] = v[len(v)/2]
	}
	return c
}

// fit returns the place of the step along the normal, its standard deviation, and
// the rms of what the model leaves (nought where it would not fit).
func (s step) fit(blur float64) (t, sigma, left float64, ok bool) {
	if !s.clear {
		return 0, 0, 0, false
	}
	t, ok = s.crossing()
	if !ok {
		return 0, 0, 0, false
	}
	half := t // kept where the model will not fit, as beside a printed line
	a, b, c, rms := 1.0, 0.0, 0.0, 0.0
	var info float64
	for range 8 {
		var n [4][5]float64
		count := 0.0
		rms, info = 0, 0
		for k, v := range s.v {
			x := -s.reach + edgeStep*float64(k) - t
			if math.Abs(x) > fitReach || s.skip[k] && x > 0 {
				continue
			}
			z := x / blur
			f := 0.5 * math.Erfc(z/math.Sqrt2)
			slope := (a + c*x) * math.Exp(-z*z/2) / (blur * math.Sqrt(2*math.Pi)) // d model / d t
			g := [4]float64{slope, f, 1, x * f}
			r := v - ((a+c*x)*f + b)
			w := 1.0
			if x > 0 { // a printed line outside must not lift the level there
				w = 1 / (1 + r*r/(lineSense*lineSense))
			}
			rms += w * r * r
			info += w * slope * slope
			count += w
			for i := range g {
				for j := range g {
					n[i][j] += w * g[i] * g[j]
				}
				n[i][4] += w * g[i] * r
			}
		}
		for i, prior := range stepPriors {
			l := stepNoise * stepNoise / (prior.doubt * prior.doubt)
			n[i+1][i+1] += l
			n[i+1][4] += l * (prior.mean - [3]float64{a, b, c}[i])
		}
		d, solved := solve4(n)
		if !solved || count < 6 {
			return half, halfSigma, 0, true
		}
		rms = math.Sqrt(rms / (count - 4))
		move := min(max(d[0], -1), 1)
		t, a, b, c = t+move, a+d[1], b+d[2], c+d[3]
		if math.Abs(move) < 1e-4 {
			break
		}
	}
	if math.Abs(t-half) > farFromHalf || a < 0.1 || a > 2 || info <= 0 {
		return half, halfSigma, 0, true
	}
	// Samples half a pixel apart share their noise: two of them count as one.
	sigma = rms * math.Sqrt2 / math.Sqrt(info)
	if s.lined {
		sigma = math.Hypot(sigma, linedSigma)
	}
	return t, sigma, rms, true
}

// What is known of a step beforehand, in shares of the difference of the two side
// colours: the level at the limb (a limb darkens, or a mirror brightens), the
// level outside (shadow), the rise inside for each pixel; and the noise of a
// sample. They hold the fit where a printed line leaves little room outside.
var stepPriors = [3]struct{ mean, doubt float64 }{{1, 0.5}, {0, 0.1}, {0, 0.15}}

const stepNoise = 0.02

// stepRough is what the model of a step leaves, as a share of its height, from which on
// the half-way place is as good a reading.
const stepRough = 0.015

// lineSense is the share of the step's height above which a sample outside is
// taken for something printed on the mat.
const lineSense = 0.1

// farFromHalf is how far, pixels, a fitted step may lie from the half-way
// crossing: a surface that darkens towards its limb puts the crossing inside.
const farFromHalf = 2.5

// halfSigma is the doubt, pixels, of an edge read as the half-way crossing alone.
const halfSigma = 0.4

// linedSigma is the further doubt, pixels, of an edge with a printed line close
// outside: where the two all but touch, no dark gap shows where one ends.
const linedSigma = 0.5

// linedNear is how close outside, pixels, a printed line takes part in what is seen of
// the edge.
const linedNear = 2.5

// crossing is the place where the step passes one half, the nearest to the
// middle where there are several.
func (s step) crossing() (t float64, ok bool) {
	best := math.Inf(1)
	for k := 1; k < len(s.v); k++ {
		u, v := s.v[k-1], s.v[k]
		if u < 0.5 || v >= 0.5 {
			continue
		}
		x := -s.reach + edgeStep*(float64(k-1)+(u-0.5)/(u-v))
		if math.Abs(x) < math.Abs(best) {
			best = x
		}
	}
	return best, !math.IsInf(best, 1)
}

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
