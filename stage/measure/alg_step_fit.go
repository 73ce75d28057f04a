package measure

import "math"

// fit returns the place of the step along the normal, its standard deviation, and
// the rms of what the model leaves (nought where it would not fit).
//
// All colours are fitted at once, each with levels of its own: where a body is of one
// colour at its limb and of another further in, no one mixture of them shows both.
func (s step) fit(blur float64) (t, sigma, left float64, ok bool) {
	if !s.clear {
		return 0, 0, 0, false
	}
	t, ok = s.crossing()
	if !ok {
		return 0, 0, 0, false
	}
	half := t // kept where the model will not fit, as beside a printed line
	l := levels{colour{}, s.along, colour{}}
	rms, info := 0.0, 0.0
	for range 8 {
		n := s.normals(t, blur, &l)
		move, next, solved := n.solve(s.along, &l)
		if !solved || n.count < 6 {
			return half, halfSigma, 0, true
		}
		rms, info = n.rms(), n.info.sum()
		t, l = t+move, next
		if math.Abs(move) < 1e-4 {
			break
		}
	}
	if a := l[1].dot(s.along); math.Abs(t-half) > farFromHalf || a < 0.1 || a > 2 || info <= 0 {
		return half, halfSigma, 0, true
	}
	// Samples half a pixel apart share their noise: two of them count as one.
	sigma = rms * math.Sqrt2 / math.Sqrt(info)
	if s.lined {
		sigma = math.Hypot(sigma, linedSigma)
	}
	return t, sigma, rms, true
}

// levels are those of a step in each colour: outside, at the limb, and the rise inside
// for each pixel.
type levels [3]colour

// stepNormals are the normal equations of a step: its place on one hand, on the other
// the levels of each part of the light.
type stepNormals struct {
	n           [2][3][3]float64 // of the levels among themselves, for light and for tint
	cross, rest [3]colour        // of the levels with the place, and with what is left
	info, left  colour           // of the place with itself; sum of squares of what is left
	pull, count float64          // of the place with what is left; samples
}

// normals are a step's equations about a place and levels.
func (s step) normals(t, blur float64, l *levels) (n stepNormals) {
	blurs := [2]float64{blur, math.Hypot(blur, tintBlur)}
	for k, v := range s.v {
		x := -s.reach + edgeStep*float64(k) - t
		if math.Abs(x) > fitReach || s.skip[k] && x > 0 {
			continue
		}
		var g [2][3]float64 // what the levels add to light and to tint
		var steep [2]float64
		for c, b := range blurs {
			z := x / b
			f := 0.5 * math.Erfc(z/math.Sqrt2)
			g[c] = [3]float64{1, f, x * f}
			steep[c] = math.Exp(-z*z/2) / (b * math.Sqrt(2*math.Pi))
		}
		var r, slope colour
		for c := range v {
			q := g[min(c, 1)]
			slope[c] = (l[1][c] + l[2][c]*x) * steep[min(c, 1)]
			r[c] = v[c] - (l[0][c] + l[1][c]*q[1] + l[2][c]*q[2])
		}
		rr, w := r.dot(r), 1.0
		if x > 0 { // a printed line outside must not lift the level there
			w = 1 / (1 + rr/(lineSense*lineSense))
		}
		n.count += w
		for c := range v {
			n.left[c] += w * r[c] * r[c]
			n.info[c] += w * slope[c] * slope[c]
		}
		n.pull += w * slope.dot(r)
		for c := range g {
			for i := range g[c] {
				for j := range g[c] {
					n.n[c][i][j] += w * g[c][i] * g[c][j]
				}
			}
		}
		for c := range v {
			for i, q := range g[min(c, 1)] {
				n.cross[i][c] += w * q * slope[c]
				n.rest[i][c] += w * q * r[c]
			}
		}
	}
	return n
}

// rms is what the model leaves, each part of the light counted by what it says of the place.
func (n *stepNormals) rms() float64 {
	return math.Sqrt(n.info.dot(n.left) / n.info.sum() / (n.count - 4))
}

// solve is how far the step moves, and its levels then, with what is known of those
// beforehand.
func (n *stepNormals) solve(along colour, l *levels) (move float64, next levels, ok bool) {
	var hang, rest [3]colour // how the levels hang on the place, and on what is left
	info, pull := n.info.sum(), n.pull
	var known [3]float64
	for i, prior := range stepPriors {
		known[i] = stepNoise * stepNoise / (prior.doubt * prior.doubt)
		n.n[0][i][i] += known[i]
		n.n[1][i][i] += known[i]
	}
	light, sure := inverse3(n.n[0])
	tint, too := inverse3(n.n[1])
	if !sure || !too {
		return 0, *l, false
	}
	for c := range along {
		inv := &tint
		if c == 0 {
			inv = &light
		}
		for i, prior := range stepPriors {
			n.rest[i][c] += known[i] * (prior.mean*along[c] - l[i][c])
		}
		for i := range inv {
			for j := range inv {
				hang[i][c] += inv[i][j] * n.cross[j][c]
				rest[i][c] += inv[i][j] * n.rest[j][c]
			}
			info -= n.cross[i][c] * hang[i][c]
			pull -= n.cross[i][c] * rest[i][c]
		}
	}
	if info < 1e-12 {
		return 0, *l, false
	}
	move = min(max(pull/info, -1), 1) // pixels, at most at once
	next = *l
	for i := range next {
		for c := range along {
			next[i][c] += rest[i][c] - move*hang[i][c]
		}
	}
	return move, next, true
}

// What is known of a step beforehand, in shares of the difference of the two side
// colours: the level outside (shadow), at the limb (a limb darkens, or a mirror
// brightens), the rise inside for each pixel; and the noise of a sample. They hold the
// fit where a printed line leaves little room outside.
var stepPriors = [3]struct{ mean, doubt float64 }{{0, 0.1}, {1, 0.5}, {0, 0.15}}

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
