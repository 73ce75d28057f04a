package measure

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// reduced is the photograph in linear light, n × n pixels averaged into one.
// Its pixel (i, j) has its centre at n·i + (n-1)/2 of the full picture.
type reduced struct {
	w, h, n int
	lin     []float32 // 3 a pixel
}

// longSide of the reduced picture: fine enough to keep a millimetre apart,
// small enough to be quick.
const longSide = 1600

func reduce(ctx context.Context, p *picture) (*reduced, error) {
	n := max(1, (max(p.w, p.h)+longSide-1)/longSide)
	r := &reduced{w: p.w / n, h: p.h / n, n: n}
	r.lin = make([]float32, 3*r.w*r.h)
	lut := linear()
	share := 1 / float32(n*n)
	err := cores.Rows(ctx, r.h, func(y int) {
		for x := range r.w {
			var s [3]float32
			for dy := range n {
				i := 3 * ((y*n+dy)*p.w + x*n)
				for range n {
					s[0] += lut[p.rgb[i]]
					s[1] += lut[p.rgb[i+1]]
					s[2] += lut[p.rgb[i+2]]
					i += 3
				}
			}
			o := 3 * (y*r.w + x)
			r.lin[o], r.lin[o+1], r.lin[o+2] = s[0]*share, s[1]*share, s[2]*share
		}
	})
	return r, err
}

// full is the place in the full picture of a place in the reduced one.
func (r *reduced) full(x, y float64) r2.Vec {
	k := float64(r.n-1) / 2
	return r2.Vec{X: float64(r.n)*x + k, Y: float64(r.n)*y + k}
}

// inside reports which reduced pixels lie in a polygon of the full picture,
// by even-odd crossings of each row.
func (r *reduced) inside(polygon []r2.Vec) []bool {
	in := make([]bool, r.w*r.h)
	k := float64(r.n-1) / 2
	for y := range r.h {
		fy := float64(r.n*y) + k
		for _, e := range crossings(polygon, fy) { // each turns all to its right over
			from := int(math.Ceil((e - k) / float64(r.n)))
			for x := max(from, 0); x < r.w; x++ {
				in[y*r.w+x] = !in[y*r.w+x]
			}
		}
	}
	return in
}

func crossings(polygon []r2.Vec, y float64) (xs []float64) {
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y <= y) != (b.Y <= y) {
			xs = append(xs, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
		}
	}
	return xs
}

// lightFloor is added before a logarithm is taken, so that the noise of the
// darkest values (one step of an 8-bit file near black is 0.0003 to 0.001) does
// not count as colour.
const lightFloor = 0.004

// background is the colour of the bare mat in full light over the picture: for
// each channel a quadratic of the logarithm, which takes in the fall of light
// across the table and the lens's own towards the corners.
type background struct {
	r    *reduced
	coef [3][6]float64
}

func (b *background) terms(x, y float64) [6]float64 {
	u := 2*x/float64(b.r.w) - 1
	v := 2*y/float64(b.r.h) - 1
	return [6]float64{1, u, v, u * u, u * v, v * v}
}

// ratio is the logarithm of the light over the bare mat's, channel by channel.
func (b *background) ratio(x, y int) (out [3]float64) {
	t := b.terms(float64(x), float64(y))
	i := 3 * (y*b.r.w + x)
	for c := range out {
		s := 0.0
		for k, v := range t {
			s += v * b.coef[c][k]
		}
		out[c] = math.Log(float64(b.r.lin[i+c])+lightFloor) - s
	}
	return out
}

// bare is the mat's own colour at a place of the full picture.
func (b *background) bare(x, y float64) (out colour) {
	k := float64(b.r.n-1) / 2
	t := b.terms((x-k)/float64(b.r.n), (y-k)/float64(b.r.n))
	for c := range out {
		s := 0.0
		for j, v := range t {
			s += v * b.coef[c][j]
		}
		out[c] = max(0, math.Exp(s)-lightFloor)
	}
	return out
}

// findBackground takes the commonest colour inside the region for the mat's and
// fits its fall of light to the pixels near it, drawing the net closer.
func findBackground(r *reduced, region []bool) *background {
	b := &background{r: r}
	mode := commonest(r, region)
	for c := range 3 {
		b.coef[c][0] = math.Log(mode[c] + lightFloor)
	}
	for _, net := range []float64{0.6, 0.45, 0.35, 0.25, 0.2} {
		b.refit(region, net)
	}
	return b
}

// commonest is the mean colour in the fullest neighbourhood of a histogram with
// 32 steps a channel, evenly spaced to the eye (square root of light).
func commonest(r *reduced, region []bool) (mean [3]float64) {
	const n = 32
	count := make([]int, n*n*n)
	bin := func(i int) [3]int {
		var k [3]int
		for c := range k {
			k[c] = min(n-1, int(n*math.Sqrt(float64(r.lin[3*i+c]))))
		}
		return k
	}
	for i, in := range region {
		if in {
			k := bin(i)
			count[(k[0]*n+k[1])*n+k[2]]++
		}
	}
	best, most := [3]int{}, -1
	for a := 1; a < n-1; a++ {
		for b := 1; b < n-1; b++ {
			for c := 1; c < n-1; c++ {
				s := 0
				for d := range 27 {
					s += count[((a+d/9-1)*n+b+d/3%3-1)*n+c+d%3-1]
				}
				if s > most {
					best, most = [3]int{a, b, c}, s
				}
			}
		}
	}
	total := 0.0
	for i, in := range region {
		k := bin(i)
		if in && abs(k[0]-best[0]) <= 1 && abs(k[1]-best[1]) <= 1 && abs(k[2]-best[2]) <= 1 {
			for c := range mean {
				mean[c] += float64(r.lin[3*i+c])
			}
			total++
		}
	}
	for c := range mean {
		mean[c] /= max(total, 1)
	}
	return mean
}

func abs(i int) int { return max(i, -i) }

func (b *background) refit(region []bool, net float64) {
	var normal [6][6]float64
	var right [3][6]float64
	for y := 1; y < b.r.h; y += 3 { // every ninth pixel is plenty for six numbers
		for x := 1; x < b.r.w; x += 3 {
			if !region[y*b.r.w+x] {
				continue
			}
			q := b.ratio(x, y)
			if math.Abs(q[0]) > net || math.Abs(q[1]) > net || math.Abs(q[2]) > net {
				continue
			}
			t := b.terms(float64(x), float64(y))
			for i := range t {
				for j := range t {
					normal[i][j] += t[i] * t[j]
				}
				for c := range q {
					right[c][i] += t[i] * q[c]
				}
			}
		}
	}
	a := mat.NewDense(6, 6, nil)
	for i := range 6 {
		a.SetRow(i, normal[i][:])
		a.Set(i, i, normal[i][i]+1e-3) // holds a term that nothing speaks for at zero
	}
	for c := range 3 {
		var d mat.VecDense
		if d.SolveVec(a, mat.NewVecDense(6, right[c][:])) != nil {
			return
		}
		for k := range 6 {
			b.coef[c][k] += d.AtVec(k)
		}
	}
}
