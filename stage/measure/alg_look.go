package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// look is what each pixel of the reduced picture looks like against the bare mat.
//
// Three marks make its box: its light, its tint and its grain, the unrest of the
// light round it. A mat has grain, and its printed lines have more; it keeps both in
// shadow. A turned, painted or polished object has little, so that "grid still
// visible" tells mat from an object of the mat's own colour.
type look struct {
	ratio [][3]float32 // logarithm of the light over the bare mat's, by channel
	calm  [][3]float32 // the same without printed lines
	box   []uint16
	mat   [][2]float32 // the place of the mat seen there, mm
	says  []says

	printed bool // the grid's lines can be told from the mat
}

const (
	lightSteps, tintSteps, grainSteps = 28, 12, 12
	darkest, lightStep, tintStep      = 3.0, 0.25, 0.25
	grainHalf                         = 2 // pixels to either side that grain is read over
)

// boxes is how many kinds of pixel are counted.
const boxes = lightSteps * tintSteps * grainSteps

func (m ground) look(ctx context.Context) (*look, error) {
	r := m.reduced
	out := &look{
		ratio: make([][3]float32, r.w*r.h), box: make([]uint16, r.w*r.h), mat: make([][2]float32, r.w*r.h),
	}
	grain := r.grain()
	err := cores.Rows(ctx, r.h, func(y int) {
		for x := range r.w {
			i := y*r.w + x
			q := m.bare.ratio(x, y)
			out.ratio[i] = [3]float32{float32(q[0]), float32(q[1]), float32(q[2])}
			out.box[i] = boxOf(lightOf(out.ratio[i]), tintOf(out.ratio[i]), float64(grain[i]))
			out.mat[i] = [2]float32{float32(math.NaN()), float32(math.NaN())}
			if at, ok := m.cam.OnPlane(r.full(float64(x), float64(y)), 0); ok {
				out.mat[i] = [2]float32{float32(at.X), float32(at.Y)}
			}
		}
	})
	return out, err
}

// lightOf is the logarithm of a pixel's light over the bare mat's; tintOf how far its
// colour lies from it.
func lightOf(q [3]float32) float64 { return float64(q[0]+q[1]+q[2]) / 3 }

func tintOf(q [3]float32) float64 { return math.Hypot(float64(q[0]-q[1]), float64(q[2]-q[1])) }

func boxOf(light, tint, grain float64) uint16 {
	l := min(max(int((light+darkest)/lightStep), 0), lightSteps-1)
	t := min(int(tint/tintStep), tintSteps-1)
	g := min(max(int((math.Log(grain+1e-4)+6.5)/0.5), 0), grainSteps-1)
	return uint16((l*tintSteps+t)*grainSteps + g)
}

// at is the place of the mat seen at a pixel.
func (l *look) at(i int) (r2.Vec, bool) {
	p := r2.Vec{X: float64(l.mat[i][0]), Y: float64(l.mat[i][1])}
	return p, !math.IsNaN(p.X)
}

// grain is the standard deviation of the light over its mean in the calmest square of
// 5 × 5 pixels that holds a pixel: beside an edge there is one clear of it, so that an
// object is calm up to its border (Nagao & Matsuyama, Computer Graphics and Image
// Processing 9 (1979) 394-407).
func (r *reduced) grain() []float32 {
	n := r.w * r.h
	sum, square := make([]float32, n), make([]float32, n)
	for i := range n {
		v := r.lin[3*i] + r.lin[3*i+1] + r.lin[3*i+2]
		sum[i], square[i] = v, v*v
	}
	add := func(a, b float32) float32 { return a + b }
	sum, square = r.overSquare(sum, add), r.overSquare(square, add)
	const count = (2*grainHalf + 1) * (2*grainHalf + 1)
	for i := range n {
		mean := float64(sum[i]) / count
		sum[i] = float32(math.Sqrt(max(0, float64(square[i])/count-mean*mean)) / (mean + 3*lightFloor))
	}
	return r.overSquare(sum, func(a, b float32) float32 { return min(a, b) })
}

// overSquare gathers a value over the square round each pixel, rows then columns; the
// picture's border is repeated outside.
func (r *reduced) overSquare(v []float32, gather func(a, b float32) float32) []float32 {
	v = slices.Clone(v)
	pass := func(line []float32, from, stride int) {
		for k := range line {
			line[k] = v[from+k*stride]
		}
		n := len(line)
		for k := range n {
			a := line[max(k-grainHalf, 0)]
			for d := 1 - grainHalf; d <= grainHalf; d++ {
				a = gather(a, line[min(max(k+d, 0), n-1)])
			}
			v[from+k*stride] = a
		}
	}
	const together = 32 // lines
	cores.Each((r.h+together-1)/together, func(k int) {
		line := make([]float32, r.w)
		for y := k * together; y < min((k+1)*together, r.h); y++ {
			pass(line, y*r.w, 1)
		}
	})
	cores.Each((r.w+together-1)/together, func(k int) {
		line := make([]float32, r.h)
		for x := k * together; x < min((k+1)*together, r.w); x++ {
			pass(line, x, r.w)
		}
	})
	return v
}
