package matgrid

import (
	"math"
	"sync"

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

// division is how a mat's border is divided: strokes from line to line, and
// whether they are longer at every second line.
type division struct {
	Count int
	Inch  inchLines
	clear float64
}

// borderCounts are divisions that mats' borders carry: half an inch and an inch
// in eighths, a centimetre in millimetres, both inches in sixteenths, a centimetre in halves.
var borderCounts = [5]int{4, 8, 10, 16, 20}

// A division is believed from so many standard deviations, while none of the
// counts that it is a multiple of shows more than a share of it.
const (
	borderSure = 6.5
	borderSub  = 0.35
)

// borderOf reads the strokes that the mat's own border is divided by, looking
// outwards of the outermost lines found and of those next to them: the grid's
// last line has no crossings, since the others end there.
func borderOf(g *grey, sign float64, v view, b bounds) division {
	var best division
	said := map[inchLines]bool{}
	for _, side := range b.sides() {
		for _, line := range [4]float64{-1, 0, 1, 2} {
			e := side.strip(g, sign, v, line)
			d := e.division()
			if d.Count == 0 || d.Count < best.Count {
				continue
			}
			if d.Count > best.Count {
				best = d
				clear(said)
			}
			if d.Count == 8 || d.Count == 16 {
				said[e.inchLines()] = true
			}
		}
	}
	if said[everyLine] != said[everySecond] {
		best.Inch = everyLine
		if said[everySecond] {
			best.Inch = everySecond
		}
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

// How a strip beside a line is sampled: along, so many to a step; across, from
// clear of the line itself to short of the figures.
const (
	perStep    = 64
	stripFrom  = 0.015 // steps
	stripEvery = 0.01
	stripLines = 32
	stripNear  = 12 // of them, within the shortest strokes' reach on some mat
	leastSteps = 4
)

// strip is the light beside a line, step by step: [step][line outwards][along]; nil
// where the picture ends.
type strip [][stripLines][]float64

// strip samples beside the line'th line outwards of the outermost. Strokes are
// brighter in it than the mat.
func (s side) strip(g *grey, sign float64, v view, line float64) strip {
	var out strip
	for k := -1; k <= int(s.long); k++ {
		var step [stripLines][]float64
		whole := true
		for i := 0; i < stripLines && whole; i++ {
			from := r2.Add(s.from, r2.Add(r2.Scale(float64(k), s.dir), r2.Scale(line+stripFrom+stripEvery*float64(i), s.out)))
			a, ok0 := v.px(from)
			b, ok1 := v.px(r2.Add(from, s.dir))
			if !(ok0 && ok1 && g.inside(a.X, a.Y, 1) && g.inside(b.X, b.Y, 1)) {
				whole = i >= stripNear // what lies farther out may be out of the picture
				break
			}
			step[i] = make([]float64, perStep)
			for j := range step[i] { // the lens bends nothing over one step
				p := r2.Add(a, r2.Scale(float64(j)/perStep, r2.Sub(b, a)))
				step[i][j] = sign * g.at(p.X, p.Y)
			}
		}
		if whole {
			out = append(out, step)
		}
	}
	return out
}

// division finds the count that the steps agree on. Printed strokes keep step
// with the grid, so their beat has its crests at the lines: phase nought.
func (e strip) division() (best division) {
	if len(e) < leastSteps {
		return best
	}
	const band = 3 // lines taken together
	for near := 0; near+band <= stripNear; near++ {
		light := make([][]float64, len(e))
		for k := range e {
			light[k] = make([]float64, perStep)
			for j := range light[k] {
				for _, l := range e[k][near : near+band] {
					light[k][j] += l[j] / band
				}
			}
		}
		for _, c := range borderCounts {
			x, sure := beats(light, c)
			if sure < borderSure || x < leastBeat {
				continue
			}
			sub := 0.0
			for d := 2; d < c; d++ {
				if c%d == 0 {
					y, _ := beats(light, d)
					sub = max(sub, math.Abs(y))
				}
			}
			if sub < borderSub*x && (c > best.Count || c == best.Count && sure > best.clear) {
				best = division{Count: c, clear: sure}
			}
		}
	}
	return best
}

const (
	// leastBeat is the least height of a wave of strokes, of 255.
	leastBeat = 0.25
	// mostClear is the most that one step may add to a division's clearness, in
	// standard deviations: a ruler's edge across the border is no proof.
	mostClear = 4.0
)

// beats is the mean height of a wave that goes into each step count times and has
// its crests at the lines, and how many standard deviations of noise it stands
// over nought. The noise of a step is what it shows at counts that nobody prints
// and at the wave's other phase.
func beats(light [][]float64, count int) (x, sure float64) {
	for _, l := range light {
		z := beat(l, count)
		noise, n := imag(z)*imag(z), 1.0
		for _, d := range [4]int{count - 3, count - 2, count + 2, count + 3} {
			if d > 2 { // below there is the light's slope
				y := beat(l, d)
				noise, n = noise+real(y)*real(y)+imag(y)*imag(y), n+2
			}
		}
		own := math.Sqrt(noise/n) + leastNoise
		sure += min(max(real(z)/own, -mostClear), mostClear)
		x += real(z)
	}
	n := float64(len(light))
	return x / n, sure / math.Sqrt(n)
}

// leastNoise of a step's beat, of 255: that of rounding.
const leastNoise = 0.03

// beat is the strength and phase of a wave that goes into the samples count times,
// under a Hann window that leaves out the grid's own lines at both ends.
func beat(light []float64, count int) complex128 {
	var z complex128
	cos, sin := waveTable()[0], waveTable()[1]
	window := waveTable()[2]
	for i, x := range light {
		k := count * i % perStep
		z += complex(x*window[i]*cos[k], -x*window[i]*sin[k])
	}
	return z / perStep
}

// waveTable is a cosine, a sine and a Hann window over a step.
var waveTable = sync.OnceValue(func() *[3][perStep]float64 {
	var t [3][perStep]float64
	for i := range perStep {
		t[1][i], t[0][i] = math.Sincos(2 * math.Pi * float64(i) / perStep)
		t[2][i] = 1 - t[0][i]
	}
	return &t
})
