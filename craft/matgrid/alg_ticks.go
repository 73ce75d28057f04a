package matgrid

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// Stroke is one of a row of strokes: where it is, and its number along the row.
type Stroke struct {
	Px     r2.Vec
	Number int
}

// Strokes is a row of even strokes, one kept of each ten.
type Strokes struct {
	PerStep float64 // strokes to a step of the grid
	Longer  Longer  // which of them are
	Kept    []Stroke
}

// Longer tells which strokes of a row are longer than those beside them.
type Longer int

const (
	NoneSeen    Longer = iota // the picture does not tell
	EverySecond               // millimetres are halved, or inches are
	EveryFifth                // millimetres, or tenths of something
)

const (
	fineness   = 6    // samples from stroke to stroke
	bandHalf   = 6.0  // strokes to either side searched for the row
	bandStep   = 0.25 // strokes between lines looked along
	keepEvery  = 10   // strokes
	weakStroke = 0.4  // of the row's common strength, below which a stretch is hidden
)

// read follows a row of strokes along its best line by demodulation: the phase
// against an even wave tells where each stroke lies, whatever its width or length.
func read(g *printless, r row) Strokes {
	n := r2.Vec{X: -r.dir.Y, Y: r.dir.X}
	margin := 0.5
	count := int((r.to - r.from + 2*margin) * r.waves * fineness)
	dt := 1 / (r.waves * fineness)
	t0 := r.from - margin
	lines := int(2*bandHalf/bandStep) + 1
	light := make([][]float64, lines)
	strength := make([]float64, lines)
	for k := range lines {
		light[k] = g.sampled(true, r2.Add(r.at, r2.Scale(r.offset(k), n)), r.dir, t0, dt, count)
		for _, z := range demodulated(light[k], t0, dt, r.waves) {
			strength[k] += cmplx.Abs(z)
		}
	}
	best := 0
	for k := range strength {
		if strength[k] > strength[best] {
			best = k
		}
	}
	lo, hi := best, best
	for lo > 0 && strength[lo-1] > 0.7*strength[best] {
		lo--
	}
	for hi < lines-1 && strength[hi+1] > 0.7*strength[best] {
		hi++
	}
	mean, bare := make([]float64, count), make([]float64, count)
	whole := func(k int) []float64 {
		return g.sampled(false, r2.Add(r.at, r2.Scale(r.offset(k), n)), r.dir, t0, dt, count)
	}
	for k := lo; k <= hi; k++ {
		own := whole(k)
		for i, x := range light[k] {
			mean[i] += own[i] / float64(hi-lo+1)
			bare[i] += x / float64(hi-lo+1)
		}
	}
	o := (r.offset(lo) + r.offset(hi)) / 2
	line := row{at: r2.Add(r.at, r2.Scale(o, n)), dir: r.dir, waves: tuned(bare, t0, dt, r.waves)}
	// Where strokes are is told by the light without the grid's lines; each one's
	// place by all light, since on the ruler there are none to be painted over.
	seen, z := demodulated(bare, t0, dt, line.waves), demodulated(mean, t0, dt, line.waves)
	long := longer(light, seen, line.waves, t0, dt)
	if long == NoneSeen {
		// Along the grid every tenth stroke lies where one of its lines was painted over.
		all := make([][]float64, lines)
		for k := range all {
			all[k] = whole(k)
		}
		long = longer(all, z, line.waves, t0, dt)
	}
	return Strokes{PerStep: line.waves, Kept: numbered(g.view, line, seen, z, t0, dt), Longer: long}
}

// offset is how far across, steps, the k'th line of a band lies.
func (r row) offset(k int) float64 { return (bandStep*float64(k) - bandHalf) / r.waves }

// even takes the strokes a step again, from where the strokes lie along the row,
// and reports whether they stand as evenly as a ruler's, give or take the bend that
// one lifted at an end shows.
func (s *Strokes) even(v view) bool {
	if len(s.Kept) < leastKept {
		return false
	}
	first, ok := v.steps(s.Kept[0].Px)
	last, ok1 := v.steps(s.Kept[len(s.Kept)-1].Px)
	if !ok || !ok1 {
		return false
	}
	half := r2.Norm(r2.Sub(last, first)) / 2
	// number = a + b·t + c·t², t from -1 to 1, by least squares
	a := mat.NewDense(len(s.Kept), 3, nil)
	b := mat.NewVecDense(len(s.Kept), nil)
	for i, k := range s.Kept {
		p, _ := v.steps(k.Px)
		t := r2.Norm(r2.Sub(p, first))/half - 1
		a.SetRow(i, []float64{1, t, t * t})
		b.SetVec(i, float64(k.Number))
	}
	var x, off mat.VecDense
	if x.SolveVec(a, b) != nil {
		return false
	}
	off.MulVec(a, &x)
	off.SubVec(&off, b)
	s.PerStep = math.Abs(x.AtVec(1)) / half
	return mat.Norm(&off, 2)/math.Sqrt(float64(len(s.Kept))) < unevenMost
}

// unevenMost is the most by which a ruler's strokes may stand off, rms, in strokes.
const unevenMost = 0.1

// sampled is the light along a straight line on the mat, the grid's lines painted
// over or not.
func (p *printless) sampled(over bool, at, dir r2.Vec, t0, dt float64, count int) []float64 {
	out := make([]float64, count)
	var here affine
	near := math.Inf(-1)
	for i := range out {
		t := t0 + dt*float64(i)
		s := r2.Add(at, r2.Scale(t, dir))
		px, ok := p.px(s)
		if ok && t > near {
			here, ok = p.affine(px)
			near = t + 1
		}
		if ok && p.inside(px.X, px.Y, 1) {
			out[i] = p.at(px.X, px.Y)
			if over {
				out[i] = p.clear(s, px, &here)
			}
		} else if i > 0 {
			out[i] = out[i-1]
		}
	}
	return out
}

// How near the grid's direction (radians) and its outermost lines (steps) the
// mat's own border keeps; how near whole its strokes' number to a step is, and how
// well they keep step with the lines (the length of their mean phase; 1: exactly).
const (
	borderLean  = 0.04
	borderWide  = 1.5
	borderWhole = 0.015
	gridWhole   = 0.006
	borderPhase = 0.9
)

// ofPrint reports whether a row is the mat's own: along its lines, a whole number of
// strokes to a step that keep step with the print. A ruler laid so stands nearer the
// camera by its thickness, and drifts.
func (s *Strokes) ofPrint(v view, b bounds) bool {
	if s.lean(v) > borderLean {
		return false
	}
	first, last := s.ends(v)
	along, across := func(p r2.Vec) float64 { return p.X }, func(p r2.Vec) float64 { return p.Y }
	lo, hi := float64(b.j0), float64(b.j1)
	if d := r2.Sub(last, first); math.Abs(d.Y) > math.Abs(d.X) {
		along, across = across, along
		lo, hi = float64(b.i0), float64(b.i1)
	}
	at := across(r2.Scale(0.5, r2.Add(first, last)))
	most := gridWhole
	if at < lo+borderWide || at > hi-borderWide {
		most = borderWhole
	}
	count := math.Round(s.PerStep)
	if math.Abs(s.PerStep-count) > most {
		return false
	}
	var phase complex128
	for _, k := range s.Kept {
		p, _ := v.steps(k.Px)
		phase += cmplx.Rect(1/float64(len(s.Kept)), 2*math.Pi*count*along(p))
	}
	return cmplx.Abs(phase) > borderPhase
}

// ends are the first and the last stroke kept, in steps.
func (s *Strokes) ends(v view) (first, last r2.Vec) {
	first, _ = v.steps(s.Kept[0].Px)
	last, _ = v.steps(s.Kept[len(s.Kept)-1].Px)
	return first, last
}

// lean is the angle between the row and the grid's nearest direction, as its sine.
func (s *Strokes) lean(v view) float64 {
	first, last := s.ends(v)
	d := r2.Unit(r2.Sub(last, first))
	return min(math.Abs(d.X), math.Abs(d.Y))
}

// demodulated is the strength and phase of a wave along the samples: one value a
// sample, over a Hann window of one step to either side.
func demodulated(light []float64, t0, dt, waves float64) []complex128 {
	half := int(1 / dt)
	window := make([]float64, 2*half+1)
	for k := range window {
		window[k] = (0.5 - 0.5*math.Cos(2*math.Pi*(float64(k)+1)/float64(2*half+2))) / float64(half+1)
	}
	turned := make([]complex128, len(light))
	level := movingMean(light, half)
	for i, x := range light {
		sin, cos := math.Sincos(-2 * math.Pi * waves * (t0 + dt*float64(i)))
		turned[i] = complex((x-level[i])*cos, (x-level[i])*sin)
	}
	out := make([]complex128, len(light))
	for i := range light {
		var z complex128
		for k, w := range window {
			if j := i + k - half; j >= 0 && j < len(turned) {
				z += turned[j] * complex(w, 0)
			}
		}
		out[i] = z
	}
	return out
}

func movingMean(x []float64, half int) []float64 {
	sum := make([]float64, len(x)+1)
	for i, v := range x {
		sum[i+1] = sum[i] + v
	}
	out := make([]float64, len(x))
	for i := range x {
		lo, hi := max(0, i-half), min(len(x), i+half+1)
		out[i] = (sum[hi] - sum[lo]) / float64(hi-lo)
	}
	return out
}

// strong is the strength below which a stretch shows no strokes.
func strong(z []complex128) float64 {
	var a []float64
	for _, c := range z {
		a = append(a, cmplx.Abs(c))
	}
	slices.Sort(a)
	return weakStroke * a[len(a)*3/4]
}

// tuned is the number of strokes a step at which the phase stays put, found from
// how it drifts where strokes are seen.
func tuned(light []float64, t0, dt, waves float64) float64 {
	for range 3 {
		z := demodulated(light, t0, dt, waves)
		least := strong(z)
		var drift complex128
		const lag = fineness * 2
		for i := lag; i < len(z); i++ {
			if cmplx.Abs(z[i]) > least && cmplx.Abs(z[i-lag]) > least {
				drift += z[i] * cmplx.Conj(z[i-lag]) / complex(cmplx.Abs(z[i])*cmplx.Abs(z[i-lag]), 0)
			}
		}
		if drift == 0 {
			return waves
		}
		waves += cmplx.Phase(drift) / (2 * math.Pi * lag * dt)
	}
	return waves
}

// numbered picks strokes by the phase of z where those seen are strong, carried on
// across stretches that are hidden.
func numbered(v view, r row, seen, z []complex128, t0, dt float64) (out []Stroke) {
	least := strong(seen)
	last, begun := 0.0, false
	before, tBefore := 0.0, 0.0
	wasStrong := false
	for i, c := range z {
		if cmplx.Abs(seen[i]) < least {
			wasStrong = false
			continue
		}
		phase := cmplx.Phase(c)
		if begun { // the turn nearest the last one seen
			phase += 2 * math.Pi * math.Round((last-phase)/(2*math.Pi))
		}
		last, begun = phase, true
		t := t0 + dt*float64(i)
		at := r.waves*t + phase/(2*math.Pi) // strokes lie at whole values, up to one shift
		if wasStrong {
			for k := math.Ceil(before); k <= at; k++ {
				if math.Mod(k, keepEvery) != 0 || k == before {
					continue
				}
				s := tBefore + (t-tBefore)*(k-before)/(at-before)
				if px, ok := v.px(r2.Add(r.at, r2.Scale(s, r.dir))); ok {
					out = append(out, Stroke{px, int(k)})
				}
			}
		}
		before, tBefore, wasStrong = at, t, true
	}
	return out
}
