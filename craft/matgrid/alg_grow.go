package matgrid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// node is a crossing by its whole numbers: steps along the first and second
// family's lines.
type node struct{ i, j int }

// crossing is where two lines of the grid were seen to meet, reduced pixels.
type crossing struct {
	at    r2.Vec
	steps [2]r2.Vec // to the next crossing along either family
}

// lattice is the crossings found, in the order they were found.
type lattice struct {
	at    map[node]crossing
	order []node
}

// Bounds of what is taken for a crossing, as shares of a step.
const (
	offForetold = 0.22 // how far from where it was foretold
	stripHalf   = 0.16 // half the width of the strip searched for a line
	stripReach  = 0.48 // how far along it to either side
	leastSeen   = 0.55 // of the strip's length that must show a line
)

// grow walks from a seed to neighbours as long as there are crossings.
func (r *ridges) grow(s seed) *lattice {
	l := &lattice{at: map[node]crossing{}}
	first, ok := r.crossingAt(s.at, s.steps)
	if !ok {
		return l
	}
	l.put(node{}, first)
	for k := 0; k < len(l.order); k++ { // the list grows behind
		n := l.order[k]
		c := l.at[n]
		for d := range 2 {
			for _, way := range [2]int{1, -1} {
				next := n.step(d, way)
				if _, known := l.at[next]; known {
					continue
				}
				guess := r2.Add(c.at, r2.Scale(float64(way), c.steps[d]))
				steps := c.steps
				if back, known := l.at[n.step(d, -way)]; known {
					steps[d] = r2.Scale(float64(way), r2.Sub(c.at, back.at))
					guess = r2.Add(c.at, r2.Scale(float64(way), steps[d]))
				}
				if found, ok := r.crossingAt(guess, steps); ok {
					l.put(next, found)
				}
			}
		}
	}
	return l
}

func (n node) step(d, way int) node {
	if d == 0 {
		return node{n.i + way, n.j}
	}
	return node{n.i, n.j + way}
}

func (l *lattice) put(n node, c crossing) {
	l.at[n] = c
	l.order = append(l.order, n)
}

// crossingAt measures the crossing foretold at a place: a line along each step
// must be seen there.
func (r *ridges) crossingAt(guess r2.Vec, steps [2]r2.Vec) (crossing, bool) {
	var dir [2]r2.Vec
	var off [2]float64
	for d := range 2 {
		line, ok := r.lineAt(guess, steps[d], r2.Norm(steps[1-d]))
		if !ok {
			return crossing{}, false
		}
		dir[d], off[d] = line.dir, line.off
	}
	n0, n1 := r2.Vec{X: -dir[0].Y, Y: dir[0].X}, r2.Vec{X: -dir[1].Y, Y: dir[1].X}
	d, ok := meet(n0, off[0], n1, off[1])
	if !ok || r2.Norm(d) > offForetold*min(r2.Norm(steps[0]), r2.Norm(steps[1])) {
		return crossing{}, false
	}
	return crossing{r2.Add(guess, d), steps}, true
}

// line is one seen near a place: the points p with n·(p - place) = off.
type line struct {
	dir r2.Vec
	off float64
}

// lineAt fits a line along step through the ridges near a place, apart is the
// distance to the next line beside it. The line must be seen on both sides of the place.
func (r *ridges) lineAt(at, step r2.Vec, apart float64) (line, bool) {
	long := r2.Norm(step)
	dir := r2.Scale(1/long, step)
	n := r2.Vec{X: -dir.Y, Y: dir.X}
	angle := math.Mod(math.Atan2(dir.Y, dir.X)+math.Pi, math.Pi)
	reach, wide := stripReach*long, max(stripHalf*apart, 1.5)
	var ts, os []float64
	r.near(at.X, at.Y, reach+wide, func(p ridge) {
		d := r2.Vec{X: float64(p.x) - at.X, Y: float64(p.y) - at.Y}
		t, o := d.X*dir.X+d.Y*dir.Y, d.X*n.X+d.Y*n.Y
		if math.Abs(t) < reach && math.Abs(o) < wide && turnBetween(float64(p.angle), angle) < 12*math.Pi/180 {
			ts, os = append(ts, t), append(os, o)
		}
	})
	if len(ts) < 4 {
		return line{}, false
	}
	a, b := commonOffset(os), 0.0
	for range 3 { // o = a + b·t, by least squares of what lies within a pixel
		var w, wt, wtt, wo, wto float64
		for k, t := range ts {
			if math.Abs(os[k]-a-b*t) < 1.2 {
				w, wt, wtt = w+1, wt+t, wtt+t*t
				wo, wto = wo+os[k], wto+t*os[k]
			}
		}
		if w < 4 || w*wtt-wt*wt < 1e-6*w*wtt {
			return line{}, false
		}
		b = (w*wto - wt*wo) / (w*wtt - wt*wt)
		a = (wo - b*wt) / w
	}
	if math.Abs(b) > 0.15 || !covered(ts, os, a, b, reach) {
		return line{}, false
	}
	turned := r2.Unit(r2.Add(dir, r2.Scale(b, n)))
	return line{turned, a / math.Sqrt(1+b*b)}, true
}

// commonOffset is the place across at which most ridges lie.
func commonOffset(os []float64) float64 {
	best, most := 0.0, -1
	for _, o := range os {
		n := 0
		for _, q := range os {
			if math.Abs(q-o) < 0.8 {
				n++
			}
		}
		if n > most || (n == most && math.Abs(o) < math.Abs(best)) {
			best, most = o, n
		}
	}
	return best
}

// covered reports whether the line shows over enough of its length, and on both
// sides.
func covered(ts, os []float64, a, b, reach float64) bool {
	n := max(4, int(2*reach/1.4))
	seen := make([]bool, n)
	for k, t := range ts {
		if math.Abs(os[k]-a-b*t) < 1.2 {
			seen[min(n-1, int((t+reach)/(2*reach)*float64(n)))] = true
		}
	}
	var half [2]int
	for k, s := range seen {
		if s {
			half[2*k/n]++
		}
	}
	return float64(half[0]+half[1]) >= leastSeen*float64(n) && 4*min(half[0], half[1]) >= n/2
}
