package camera

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// The ruler's own doubts.
const (
	// rulerHeight ± rulerHeightDoubt: graduations of a workshop ruler lie 0.5 to
	// 1.5 mm above what it lies on, mm. Common practice; a guess until logged.
	rulerHeight, rulerHeightDoubt = 1.0, 0.5
	// rulerDoubt: a steel ruler of 300 mm is right to 0.1 mm at worst (EC accuracy
	// class II: a + b·L with a = 0.3 mm, b = 0.2 mm over each metre begun), shared
	// over its length; here 0.02 %.
	rulerDoubt = 2e-4
	// leanDoubt: a grain of 0.5 mm under one end of 150 mm.
	leanDoubt = 0.5 / 150
	// rulerStray is how far the ruler may be from the mat's print before it is no
	// scale in millimetres at all: mats are misprinted by 3 % at most.
	rulerStray = 0.08
	// minRulerSpan, mm: over less a tick of 0.1 px says nothing of the scale.
	minRulerSpan = 10.0
)

// ruler is where the ruler lies: a line of ticks in the plane at a height, that
// may lean along itself.
type ruler struct {
	at     r2.Vec   // of the tick `middle` on the first edge, true mm
	turn   float64  // of its direction from X
	height float64  // at the tick `middle`, mm
	lean   float64  // rise a millimetre along it
	grow   float64  // its millimetres, less one
	edges  []r2.Vec // how far the further edges lie along and across from the first

	middle float64 // mm along the ruler; not looked for
	half   float64 // of the ticks' span, mm
}

// rulerParams is the number of the ruler's unknowns, without its further edges.
const rulerParams = 6

// place returns where a tick is and its derivatives by the ruler's unknowns: at,
// turn, height, lean, grow, and along and across of its edge.
func (r *ruler) place(at float64, edge int) (p r3.Vec, d [rulerParams + 2]r3.Vec) {
	s, c := math.Sincos(r.turn)
	run, b := r.run(at, edge), 0.0
	if edge > 0 {
		b = r.edges[edge-1].Y
	}
	stretch := (1 + r.grow) * (1 - r.lean*r.lean/2) // seen from above a slope is shorter
	a := run * stretch
	p = r3.Vec{X: r.at.X + a*c - b*s, Y: r.at.Y + a*s + b*c, Z: r.height + r.lean*run}
	d = [rulerParams + 2]r3.Vec{
		{X: 1},
		{Y: 1},
		{X: -a*s - b*c, Y: a*c - b*s},
		{Z: 1},
		{X: -run * r.lean * c, Y: -run * r.lean * s, Z: run},
		{X: run * c, Y: run * s},
		{X: stretch * c, Y: stretch * s, Z: r.lean},
		{X: -s, Y: c},
	}
	return p, d
}

// run is how far along a tick is from the middle. An edge may count from
// elsewhere, which its offset makes good.
func (r *ruler) run(at float64, edge int) float64 {
	if edge > 0 {
		return at - r.middle + r.edges[edge-1].X
	}
	return at - r.middle
}

// lift is how much higher the ruler's middle is for its lean, since its lower end
// rests on the mat, and the derivative by the lean. Half the span times |lean|,
// made smooth about nought.
func (r *ruler) lift() (lift, slope float64) {
	const smooth = leanDoubt / 10
	h := math.Hypot(r.lean, smooth)
	return r.half * (h - smooth), r.half * r.lean / h
}

// moved is the ruler a step further, the step in the order of place, each
// further edge with its two at the end.
func (r ruler) moved(step []float64) ruler {
	r.at = r2.Add(r.at, r2.Vec{X: step[0], Y: step[1]})
	r.turn += step[2]
	r.height += step[3]
	r.lean += step[4]
	r.grow += step[5]
	r.edges = slices.Clone(r.edges)
	for i := range r.edges {
		r.edges[i] = r2.Add(r.edges[i], r2.Vec{X: step[rulerParams+2*i], Y: step[rulerParams+2*i+1]})
	}
	return r
}

// edgesOf numbers the edges of the ticks from 0 in the order of their names.
func edgesOf(ticks []Tick) (index []int, n int) {
	var names []int
	for _, t := range ticks {
		names = append(names, t.Edge)
	}
	slices.Sort(names)
	names = slices.Compact(names)
	for _, t := range ticks {
		i, _ := slices.BinarySearch(names, t.Edge)
		index = append(index, i)
	}
	return index, len(names)
}

// startRuler lays the ruler where a first camera, with the mat's print taken as
// true, sees its ticks. scale is what the ruler says of the print: true
// millimetres a printed one.
func startRuler(ticks []Tick, cam *Camera) (r ruler, scale float64, err error) {
	index, n := edgesOf(ticks)
	mean, at, count := make([]r2.Vec, n), make([]float64, n), make([]float64, n)
	places := make([]r2.Vec, len(ticks))
	for i, t := range ticks {
		if !near(t.Px.X) || !near(t.Px.Y) || !near(t.At) {
			return r, 0, ErrNotFinite
		}
		p, ok := cam.OnPlane(t.Px, rulerHeight)
		if !ok {
			return r, 0, ErrRuler
		}
		places[i] = r2.Vec{X: p.X, Y: p.Y}
		e := index[i]
		mean[e], at[e], count[e] = r2.Add(mean[e], places[i]), at[e]+t.At, count[e]+1
		r.middle += t.At / float64(len(ticks))
	}
	for e := range n {
		mean[e], at[e] = r2.Scale(1/count[e], mean[e]), at[e]/count[e]
	}
	var run r2.Vec // Σ (a - ā)(P - P̄) over Σ (a - ā)², edge by edge
	ss, low, high := 0.0, math.Inf(1), math.Inf(-1)
	for i, t := range ticks {
		a := t.At - at[index[i]]
		run = r2.Add(run, r2.Scale(a, r2.Sub(places[i], mean[index[i]])))
		ss, low, high = ss+a*a, min(low, t.At), max(high, t.At)
	}
	if len(ticks) < 3 || high-low < minRulerSpan || ss < minRulerSpan {
		return r, 0, ErrRuler
	}
	r.half = (high - low) / 2
	run = r2.Scale(1/ss, run)
	scale = 1 / r2.Norm(run)
	if !(math.Abs(math.Log(scale)) < rulerStray) {
		return r, 0, ErrRuler
	}
	dir := r2.Scale(scale, run)
	r.turn, r.height = math.Atan2(dir.Y, dir.X), rulerHeight
	start := func(e int) r2.Vec { return r2.Scale(scale, r2.Sub(mean[e], r2.Scale(at[e]-r.middle, run))) }
	r.at = start(0)
	for e := 1; e < n; e++ {
		off := r2.Sub(start(e), r.at)
		r.edges = append(r.edges, r2.Vec{X: r2.Dot(off, dir), Y: r2.Cross(dir, off)})
	}
	return r, scale, nil
}
