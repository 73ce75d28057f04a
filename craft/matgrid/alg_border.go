package matgrid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// bounds are the outermost whole numbers of the lines found.
type bounds struct{ i0, i1, j0, j1 int }

func boundsOf(c []Crossing) bounds {
	b := bounds{c[0].I, c[0].I, c[0].J, c[0].J}
	for _, x := range c {
		b.i0, b.i1 = min(b.i0, x.I), max(b.i1, x.I)
		b.j0, b.j1 = min(b.j0, x.J), max(b.j1, x.J)
	}
	return b
}

// Divisions that mats' borders carry, and how many times the strength of the
// strokes must stand over that of counts that nobody prints.
var borderCounts, noCounts = []int{8, 10, 16, 20}, []int{6, 12, 13, 14, 18}

const borderClear = 5.0

// borderOf counts the strokes a step that the mat's own border is divided into,
// looking beside the outermost lines and those next to them; zero where nothing
// stands out.
func borderOf(g *grey, v view, b bounds) int {
	best, clear := 0, 0.0
	for _, side := range b.sides() {
		for _, line := range [3]float64{-1, 0, 1} {
			n, c := side.count(g, v, line)
			if c > clear {
				best, clear = n, c
			}
		}
	}
	if clear < borderClear {
		return 0
	}
	return best
}

// side is one side of the grid: from one corner along dir, the outside to out.
type side struct {
	from, dir, out r2.Vec
	long           float64 // steps
}

func (b bounds) sides() [4]side {
	lo, hi := r2.Vec{X: float64(b.i0), Y: float64(b.j0)}, r2.Vec{X: float64(b.i1), Y: float64(b.j1)}
	w, h := hi.X-lo.X, hi.Y-lo.Y
	return [4]side{
		{lo, r2.Vec{X: 1}, r2.Vec{Y: -1}, w},
		{lo, r2.Vec{Y: 1}, r2.Vec{X: -1}, h},
		{hi, r2.Vec{X: -1}, r2.Vec{Y: 1}, w},
		{hi, r2.Vec{Y: -1}, r2.Vec{X: 1}, h},
	}
}

// count is the division that stands out most beside the line'th line outwards of
// the outermost, and by how much: how strongly the light of all steps beats
// together at each count. Printed strokes keep step with the grid, so the beats of
// its steps have one phase.
func (s side) count(g *grey, v view, line float64) (n int, clear float64) {
	const perStep = 64
	steps := int(s.long)
	if steps < 3 {
		return 0, 0
	}
	all := slices.Concat(borderCounts, noCounts)
	strength := make([]float64, len(all))
	re, im := make([]float64, steps), make([]float64, steps)
	before := make([]float64, len(borderCounts)) // at the last offset: one alone is chance
	for k := range 11 {
		off := line + 0.05 + 0.02*float64(k) // clear of the line itself; strokes are 1 to 3 mm long
		light := sampled(g, v, r2.Add(s.from, r2.Scale(off, s.out)), s.dir, 0, 1.0/perStep, steps*perStep)
		for i, count := range all {
			for b := range steps {
				z := beat(light[b*perStep:(b+1)*perStep], count)
				re[b], im[b] = real(z), imag(z)
			}
			slices.Sort(re)
			slices.Sort(im)
			strength[i] = math.Hypot(re[steps/2], im[steps/2])
		}
		floor := max(0.25, slices.Max(strength[len(borderCounts):]))
		for i, c := range borderCounts {
			r := strength[i] / floor
			if both := min(r, before[i]); both > clear {
				n, clear = c, both
			}
			before[i] = r
		}
	}
	return n, clear
}

// beat is the strength and phase of a wave that goes into the samples count times,
// under a Hann window that leaves out the grid's own lines at both ends.
func beat(light []float64, count int) complex128 {
	var z complex128
	for i, x := range light {
		sin, cos := math.Sincos(-2 * math.Pi * float64(count*i) / float64(len(light)))
		x *= 1 - math.Cos(2*math.Pi*float64(i)/float64(len(light)))
		z += complex(x*cos, x*sin)
	}
	return z / complex(float64(len(light)), 0)
}

// alongGrid reports whether a row is the grid's own doing: strokes that divide a
// step evenly, along the grid's direction. Rulers seldom do: they stand nearer
// the camera by their thickness.
func (r row) alongGrid(perStep float64, b bounds) bool {
	const straight = 0.04 // radians
	lean := min(math.Abs(r.dir.X), math.Abs(r.dir.Y))
	whole := math.Abs(perStep - math.Round(perStep))
	if lean > straight {
		return false
	}
	if math.Round(perStep) != 10 {
		return whole < 0.05
	}
	edge := min(math.Abs(r.at.X-float64(b.i0)), math.Abs(r.at.X-float64(b.i1)))
	if math.Abs(r.dir.X) > math.Abs(r.dir.Y) {
		edge = min(math.Abs(r.at.Y-float64(b.j0)), math.Abs(r.at.Y-float64(b.j1)))
	}
	return edge < 1.5 && whole < 0.006
}
