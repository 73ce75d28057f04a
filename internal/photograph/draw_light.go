package photograph

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// irradiance is what a lamp gives a level place with nothing in the way.
func (l *light) irradiance(k int, p r3.Vec) float64 {
	return l.lamps[k].power * falloff(&l.lamps[k], p) / falloff(&l.lamps[k], l.middle)
}

func falloff(l *lamp, p r3.Vec) float64 {
	d := r3.Sub(l.at, p)
	dd := r3.Norm2(d)
	return d.Z / (dd * math.Sqrt(dd))
}

// spot is a place on a lamp's disc; q is in the unit square.
func (l *lamp) spot(middle r3.Vec, qx, qy float64) r3.Vec {
	n := unit(r3.Sub(middle, l.at))
	a := unit(r3.Cross(n, r3.Vec{X: 0.31, Y: 0.95}))
	b := r3.Cross(n, a)
	r := l.size * math.Sqrt(qx)
	sin, cos := math.Sincos(2 * math.Pi * qy)
	return r3.Add(l.at, r3.Add(r3.Scale(r*cos, a), r3.Scale(r*sin, b)))
}

// shade holds how much of every lamp, and of the light from all round, reaches
// places of the mat near the body.
type shade struct {
	x0, y0, step float64
	w, h         int
	lamps        [][]float32
	sky          []float32
}

// Rays for each place of the mat: enough that what is left, after smoothing over
// neighbours, is less than the sensor's noise.
const (
	lampRays = 36
	skyRays  = 36
)

func (s *Scene) castShade() *shade {
	// What reaches farther than twice the body's size is lost in the mat's texture.
	reach := s.body.reach + 2.2*s.body.rmax + 30
	mid := s.body.world(s.body.middle())
	out := &shade{step: 1}
	out.x0, out.y0 = mid.X-reach, mid.Y-reach
	out.w = int(2*reach/out.step) + 1
	out.h = out.w
	rng := rand.New(rand.NewPCG(s.light.seed, 7))
	out.sky = make([]float32, out.w*out.h)
	for range s.light.lamps {
		out.lamps = append(out.lamps, make([]float32, out.w*out.h))
	}
	side := int(math.Sqrt(lampRays))
	for j := range out.h {
		for i := range out.w {
			p := r3.Vec{X: out.x0 + float64(i)*out.step, Y: out.y0 + float64(j)*out.step}
			o := s.body.own(p)
			for k := range s.light.lamps {
				open := 0
				if !s.body.near(o, s.body.ownDir(r3.Sub(s.light.lamps[k].at, p)), s.light.lamps[k].size) {
					open = lampRays
				} else {
					for q := range lampRays {
						qx := (float64(q%side) + rng.Float64()) / float64(side)
						qy := (float64(q/side) + rng.Float64()) / float64(side)
						to := s.light.lamps[k].spot(s.light.middle, qx, qy)
						if !s.body.blocks(o, s.body.ownDir(r3.Sub(to, p))) {
							open++
						}
					}
				}
				out.lamps[k][j*out.w+i] = float32(open) / lampRays
			}
			open := 0
			side := int(math.Sqrt(skyRays))
			for q := range skyRays {
				// Cosine-weighted directions (Malley: a disc thrown up onto the dome).
				r := math.Sqrt((float64(q%side) + rng.Float64()) / float64(side))
				sin, cos := math.Sincos(2 * math.Pi * (float64(q/side) + rng.Float64()) / float64(side))
				d := r3.Vec{X: r * cos, Y: r * sin, Z: math.Sqrt(max(0, 1-r*r))}
				if !s.body.blocks(o, s.body.ownDir(d)) {
					open++
				}
			}
			out.sky[j*out.w+i] = float32(open) / skyRays
		}
	}
	for k := range out.lamps {
		out.lamps[k] = soften(out.lamps[k], out.w, out.h)
	}
	out.sky = soften(soften(out.sky, out.w, out.h), out.w, out.h)
	return out
}

// near reports whether any ray from o to a lamp could meet the body's ball.
func (b *body) near(o, to r3.Vec, size float64) bool {
	m := r3.Vec{X: b.length/2 - o.X, Y: -o.Y, Z: -o.Z}
	dd := r3.Norm2(to)
	t := min(1, max(0, r3.Dot(m, to)/dd))
	return norm(r3.Sub(m, r3.Scale(t, to))) < b.reach+size*t
}

// soften averages over three by three places.
func soften(a []float32, w, h int) []float32 {
	out := make([]float32, len(a))
	for y := range h {
		for x := range w {
			sum, n := float32(0), float32(0)
			for j := max(0, y-1); j <= min(h-1, y+1); j++ {
				for i := max(0, x-1); i <= min(w-1, x+1); i++ {
					k := float32((2 - abs(i-x)) * (2 - abs(j-y)))
					sum += k * a[j*w+i]
					n += k
				}
			}
			out[y*w+x] = sum / n
		}
	}
	return out
}

func abs(i int) int { return max(i, -i) }

// at reads the shade; lamps beyond the second are none.
func (s *shade) at(x, y float64) (lamps [2]float64, sky float64) {
	x, y = (x-s.x0)/s.step, (y-s.y0)/s.step
	i, j := int(x), int(y)
	if x < 0 || y < 0 || i >= s.w-1 || j >= s.h-1 {
		return [2]float64{1, 1}, 1
	}
	x, y = x-float64(i), y-float64(j)
	k := j*s.w + i
	read := func(a []float32) float64 {
		return (float64(a[k])*(1-x)+float64(a[k+1])*x)*(1-y) + (float64(a[k+s.w])*(1-x)+float64(a[k+s.w+1])*x)*y
	}
	for n, a := range s.lamps {
		lamps[n] = read(a)
	}
	return lamps, read(s.sky)
}
