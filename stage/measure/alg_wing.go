package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Limits for telling a fin from a flange.
const (
	wingRun     = 12  // edge points in a row that face the axis: 2 to 3 mm
	wingDepth   = 2.0 // mm that such a run must cover in radius
	wingLeans   = 0.8 // mm along the axis that half of it must: a jag in the edge of a turned body goes straight in
	wingBend    = 0.3 // change of slope that ends a fin's leading edge
	wingFalling = -0.2
)

// wings marks the edge points that belong to something standing out of a turned
// body, fins above all. Such a thing shows where the edge faces the axis: a
// touching plane whose outward normal points at the axis touches a turned body
// from within, which no outline of one can show. From the tip of such a run the
// fin is followed forward to where its edge meets the body again: the first
// hollow bend after a falling edge.
//
// A fin swept so that no edge of it faces the axis looks like a flange; then the
// sides may still differ, or the maker says what is hidden.
func (v view) wings(a axis) []bool {
	n := len(v.edge)
	t := make([]touch, n)
	across := r3.Unit(r3.Cross(a.u, r3.Sub(v.cam.C, a.p)))
	faces := make([]bool, n) // faces the axis
	for i := range v.edge {
		t[i] = a.contact(v.cam.C, v.sight[i])
		x := math.Abs(r3.Dot(t[i].e, across))
		faces[i] = t[i].ok && t[i].r < 0 && x > sideways
	}
	out := make([]bool, n)
	var sides [2][]wing
	for _, run := range runs(faces, 4) {
		if run.n < wingRun {
			continue
		}
		// Read a quarter in from each end: at the corners the planes are unsteady.
		first, last := t[(run.from+run.n/4)%n], t[(run.from+3*run.n/4)%n]
		if math.Abs(first.r-last.r) < wingDepth/2 || math.Abs(first.s-last.s) < wingLeans {
			continue
		}
		marked := make([]bool, n)
		for k := range run.n {
			marked[(run.from+k)%n] = true
		}
		// The tip is the end farther from the axis.
		tip, dir := run.from, -1
		if math.Abs(last.r) > math.Abs(first.r) {
			tip, dir = run.from+run.n-1, 1
		}
		k := 0
		if r3.Dot(t[run.from].e, across) < 0 {
			k = 1
		}
		w, ok := v.follow(t, marked, tip, dir)
		if w.marked = marked; ok {
			sides[k] = append(sides[k], w)
			continue
		}
		w.mark(out)
	}
	// Fins come in pairs: what one of a pair hides, both do.
	for k, side := range sides {
		for _, w := range side {
			paired := false
			for _, m := range sides[1-k] {
				if w.beside(m) {
					paired = true
					w.pair(m).markAll(t, out)
				}
			}
			if paired || w.to-w.from >= finLeast {
				w.mark(out)
			}
		}
	}
	return out
}

// wing is the forward part of a fin's edge: its stations and least radius, and the edge
// points of it all. A short one that has none beside it is the tip of a disc, out of round
// by what its edge is off.
type wing struct {
	from, to, least float64
	marked          []bool
}

func (w wing) mark(out []bool) {
	for i, on := range w.marked {
		out[i] = out[i] || on
	}
}

// markAll marks what stands out as far as the wing does, on either side.
func (w wing) markAll(t []touch, out []bool) {
	for i := range t {
		out[i] = out[i] || t[i].ok && t[i].s >= w.from && t[i].s <= w.to && t[i].r >= w.least
	}
}

func (w wing) beside(m wing) bool { return w.from < m.to && m.from < w.to }

func (w wing) pair(m wing) wing {
	return wing{from: min(w.from, m.from), to: max(w.to, m.to), least: min(w.least, m.least)}
}

// follow marks the fin's edge from its tip to where it meets the body.
func (v view) follow(t []touch, out []bool, tip, dir int) (wing, bool) {
	n := len(t)
	const half = 12 // points each way for a slope: about 3 mm
	slope := func(i int) float64 {
		p, q := t[((i-half)%n+n)%n], t[((i+half)%n+n)%n]
		if math.Abs(q.s-p.s) < 0.2 {
			return math.NaN()
		}
		return (q.r - p.r) / (q.s - p.s)
	}
	// Not farther than a quarter of the whole edge. The outermost radius is held
	// from where two neighbours agree on it: corners give wild single ones.
	outer := 0.0
	w := wing{from: math.Inf(1), to: math.Inf(-1), least: math.Inf(1)}
	for k := 1; k < n/4; k++ {
		i := tip + dir*k
		out[(i%n+n)%n] = true
		here, next := t[(i%n+n)%n], t[((i+dir*half)%n+n)%n]
		if math.Abs(here.r-next.r) < 1 {
			outer = max(outer, min(here.r, next.r))
			w.from, w.to, w.least = min(w.from, here.s), max(w.to, here.s), min(w.least, here.r)
		}
		before, after := slope(i-dir*half), slope(i+dir*half)
		// Stations run up or down along the edge: a falling edge falls away from the tip.
		towards := 1.0
		if next.s < t[((i-dir*half)%n+n)%n].s {
			towards = -1
		}
		if here.r < outer-wingDepth && towards*before < wingFalling && towards*(after-before) > wingBend {
			for extra := range half {
				out[((i+dir*extra)%n+n)%n] = true
			}
			return w, true
		}
	}
	// It never came back: leave the edge as it is beyond the run.
	for k := 1; k < n/4; k++ {
		out[((tip+dir*k)%n+n)%n] = false
	}
	return w, false
}

// run is a stretch of a closed list.
type run struct{ from, n int }

// runs lists the stretches of a closed list that are set, holes of up to gap
// closed.
func runs(set []bool, gap int) (out []run) {
	n := len(set)
	start := -1
	for i := range n { // begin after a hole wider than gap
		empty := true
		for k := 0; k <= gap; k++ {
			empty = empty && !set[(i+k)%n]
		}
		if empty {
			start = i
			break
		}
	}
	if start < 0 {
		return nil
	}
	from, last := -1, -1
	for k := 0; k < n+gap+1; k++ {
		i := start + k
		switch {
		case k < n && set[i%n]:
			if from < 0 {
				from = i
			}
			last = i
		case from >= 0 && i-last > gap:
			out = append(out, run{from % n, last - from + 1})
			from = -1
		}
	}
	return out
}
