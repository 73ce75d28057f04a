package matgrid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// offModel is how far, reduced pixels, a crossing may lie from where the camera
// through all of them puts it.
const offModel = 1.2

// fitMost is how many crossings a camera is fitted through here: it only has to
// foretell the others.
const fitMost = 120

// model is a camera over whole numbers: a step is ten millimetres, say. What it
// really is does not matter for foretelling; that a print may be longer one way
// than the other does.
func (l *lattice) model(w, h int) (v view, ok bool) {
	keep := l.order
	for range 4 {
		every := max(1, len(keep)/fitMost)
		var marks []camera.Mark
		for k := 0; k < len(keep); k += every {
			n := keep[k]
			marks = append(marks, camera.Mark{Px: l.at[n].at, Mm: n.mm(10)})
		}
		fit, err := camera.Fit(marks, camera.Known{Width: w, Height: h})
		if err != nil {
			return v, false
		}
		v = viewOf(&fit, w, h)
		var near []node
		for _, n := range l.order {
			if px, ok := v.px(n.place()); ok && r2.Norm(r2.Sub(px, l.at[n].at)) < offModel {
				near = append(near, n)
			}
		}
		if len(near) == len(keep) {
			break
		}
		if len(near) < leastCrossings {
			return v, false
		}
		keep = near
	}
	return v, true
}

// mm is the node's place on a mat with a given step; Y runs up the picture.
func (n node) mm(step float64) r2.Vec { return r2.Vec{X: float64(n.i) * step, Y: -float64(n.j) * step} }

func (n node) place() r2.Vec { return n.mm(1) }

// bridge looks for the crossings that a walk could not reach, and takes away
// those that do not fit, until nothing changes.
func (l *lattice) bridge(r *ridges, w, h int) (*lattice, bool) {
	for range 5 {
		v, ok := l.model(w, h)
		if !ok {
			return l, false
		}
		next := &lattice{at: map[node]crossing{}}
		for _, n := range l.candidates(v) {
			c, ok := foretold(v, n)
			if !ok {
				continue
			}
			if found, ok := r.crossingAt(c.at, c.steps); ok && r2.Norm(r2.Sub(found.at, c.at)) < offModel {
				next.put(n, found)
			}
		}
		if len(next.order) < leastCrossings {
			return l, false
		}
		same := slices.Equal(next.order, l.order)
		l = next
		if same {
			break
		}
	}
	return l, true
}

// foretold is where a camera puts a crossing, and the steps from it.
func foretold(v view, n node) (c crossing, ok bool) {
	at, ok0 := v.px(n.place())
	a, ok1 := v.px(n.step(0, 1).place())
	b, ok2 := v.px(n.step(1, 1).place())
	return crossing{at, [2]r2.Vec{r2.Sub(a, at), r2.Sub(b, at)}}, ok0 && ok1 && ok2
}

// candidates are the nodes within the picture, some way beyond what was found, in
// reading order.
func (l *lattice) candidates(v view) []node {
	lo, hi := node{math.MaxInt32, math.MaxInt32}, node{math.MinInt32, math.MinInt32}
	for n := range l.at {
		lo.i, lo.j = min(lo.i, n.i), min(lo.j, n.j)
		hi.i, hi.j = max(hi.i, n.i), max(hi.j, n.j)
	}
	const beyond = 20
	var out []node
	for j := lo.j - beyond; j <= hi.j+beyond; j++ {
		for i := lo.i - beyond; i <= hi.i+beyond; i++ {
			n := node{i, j}
			px, ok := v.px(n.place())
			if ok && px.X > 3 && px.Y > 3 && px.X < float64(v.w)-4 && px.Y < float64(v.h)-4 {
				out = append(out, n)
			}
		}
	}
	return out
}
