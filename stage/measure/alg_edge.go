package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// edgePoint is one place of the silhouette's edge.
type edgePoint struct {
	at    r2.Vec  // pixels, between the two side colours
	out   r2.Vec  // unit normal pointing away from the object
	sigma float64 // standard deviation along the normal, pixels
	open  float64 // what readings of the same step leave open, pixels outwards
	good  bool    // a step was found here
}

// Reach of the search for the edge's path, in reduced pixels, and of the measuring of a
// step and of the fit round it, in pixels.
const (
	pathReach = 3.0
	stepReach = 4.0
	fitReach  = 3.5
	edgeStep  = 0.5
)

// refineEdge moves the points of an outline to where the light passes half way
// between the inside and the outside colour, in linear light, along the normal.
//
// The model of a step is a blurred edge between a level outside and a ramp
// inside, s(t) = b + (a + c·(t-t0))·Φ(-(t-t0)/w), with Φ the normal distribution
// and w the picture's own blur, found over all points. The ramp stands for the
// limb of a rounded surface: without it the edge lies a tenth of a pixel or more
// inside.
func (m ground) refineEdge(ctx context.Context, outline []r2.Vec) ([]edgePoint, error) {
	if area(outline) < 0 { // walk with the inside on one known hand
		outline = slices.Clone(outline)
		slices.Reverse(outline)
	}
	fine, pts, err := m.stepsAlong(ctx, outline, nil, pathReach*float64(m.reduced.n))
	if err != nil || pts == nil {
		return nil, err
	}
	return m.held(ctx, fine, pts)
}

// stepsAlong are the steps of light along an outline, where the colour changes most, and
// the path that they were looked for on; none where that is too short to be one.
func (m ground) stepsAlong(ctx context.Context, outline []r2.Vec, by guide, reach float64) ([]edgePoint, []r2.Vec, error) {
	pts, err := m.path(ctx, outline, by, reach)
	if err != nil {
		return nil, nil, err
	}
	if pts = resample(smooth(pts), 1); pts == nil {
		return nil, nil, nil
	}
	fine, err := m.findSteps(ctx, pts, 5, stepReach, m.commonBlur(pts))
	if err != nil {
		return nil, nil, err
	}
	rejectStrays(fine, 7)
	return fine, pts, nil
}

// smooth is the mean of each point with its two neighbours on either side, which takes
// the steps of the search out of a path.
func smooth(pts []r2.Vec) []r2.Vec {
	n := len(pts)
	out := make([]r2.Vec, n)
	for i := range pts {
		for d := -2; d <= 2; d++ {
			out[i] = r2.Add(out[i], r2.Scale(0.2, pts[(i+d+n)%n]))
		}
	}
	return out
}

// outwards is the normal that points away from the object for an outline walked
// with area above nought (y down): the direction turned by a quarter.
func outwards(dir r2.Vec) r2.Vec { return r2.Vec{X: dir.Y, Y: -dir.X} }

func (m ground) findSteps(ctx context.Context, pts []r2.Vec, half int, reach, blur float64) ([]edgePoint, error) {
	out := make([]edgePoint, len(pts))
	err := cores.Rows(ctx, len(pts), func(i int) {
		at, dir := tangent(pts, i, half)
		e := edgePoint{at: at, out: outwards(dir)}
		s := m.readStep(at, e.out, reach)
		if t, sigma, left, ok := s.fit(blur); ok {
			// The light's half-way place is a second reading of the same step, and the
			// better one the less the step looks like its model.
			half, _ := s.crossing()
			e.open = (t - half) / 2
			t -= e.open * left * left / (left*left + stepRough*stepRough)
			e.at, e.sigma, e.good = r2.Add(at, r2.Scale(t, e.out)), sigma, true
		}
		out[i] = e
	})
	return out, err
}

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
	outer := m.bare.bare(at.X, at.Y)
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
// of the mat.
func (m ground) onLine(px r2.Vec) bool {
	at, ok := m.cam.OnPlane(px, 0)
	if !ok || !m.looks.printed {
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

// commonBlur is the width of the picture's own blur: the one that leaves the least
// at the steps, by the median over them, between the tried ones by a parabola. The
// ramp inside makes the place of an edge hang on it: a tenth of a pixel of blur is
// a tenth of a pixel of place, nearly.
func (m ground) commonBlur(pts []r2.Vec) float64 {
	const every = 5 // points
	read := make([]step, (len(pts)+every-1)/every)
	cores.Each(len(read), func(k int) {
		at, dir := tangent(pts, k*every, 5)
		read[k] = m.readStep(at, outwards(dir), stepReach)
	})
	steps := slices.DeleteFunc(read, func(s step) bool { return !s.clear || s.lined })
	const from, by, n = 0.4, 0.1, 22
	var left [n]float64
	cores.Each(n, func(k int) { left[k] = leftAt(steps, from+by*float64(k)) })
	best := 0
	for k := range left {
		if left[k] < left[best] {
			best = k
		}
	}
	if math.IsInf(left[best], 1) {
		return 1
	}
	w := from + by*float64(best)
	if best > 0 && best < n-1 && !math.IsInf(left[best-1]+left[best+1], 1) {
		l, m, h := left[best-1], left[best], left[best+1]
		w += by * 0.5 * (l - h) / (l - 2*m + h)
	}
	return w
}

// leftAt is the median of what so wide a blur leaves at the steps. One that fits few of
// them is not the picture's.
func leftAt(steps []step, blur float64) float64 {
	var all []float64
	for _, s := range steps {
		if _, _, rms, ok := s.fit(blur); ok && rms > 0 {
			all = append(all, rms)
		}
	}
	if len(all) < 10 || 2*len(all) <= len(steps) {
		return math.Inf(1)
	}
	return median(all)
}

// strayLimit is how far, in pixels, a point may stand off from the curve of its
// neighbours: printed lines that end at the edge pull single points by more.
const strayLimit = 0.7

// rejectStrays marks points that lie off a parabola through the points half
// before to half after. The parabola gives little weight to points that stand
// off it, and follows a round nose, which a line would cut.
func rejectStrays(edge []edgePoint, half int) {
	n := len(edge)
	bad := make([]bool, n)
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
		off, ok := parabolaAtZero(x, y)
		bad[i] = !ok || math.Abs(off) > strayLimit
	}
	for i := range edge {
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
