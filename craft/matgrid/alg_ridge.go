package matgrid

import (
	"context"
	"math"
	"slices"

	"scalewright/craft/cores"
)

// ridge is a place on the middle of a thin line, in the reduced picture.
type ridge struct {
	x, y   float32
	angle  float32 // of the line, radians in [0, π)
	weight float32 // how sharply the light bends across it
}

// ridges are kept in square buckets, so that a neighbourhood is quickly read.
type ridges struct {
	w, h    int // buckets
	buckets [][]ridge
	count   int
}

// bucket is the side of one, pixels.
const bucket = 16

// overNoise is how many times the median bend of all ridges one must bend to be
// kept: nearly all of them are the grain of mat and table.
const overNoise = 2.5

// findRidges lists the middles of lines that are lighter than what lies beside
// them (sign +1) or darker (-1).
func findRidges(ctx context.Context, g *grey, sign float32) (*ridges, error) {
	s, err := smooth(ctx, g)
	if err != nil {
		return nil, err
	}
	perRow := make([][]ridge, s.h)
	err = cores.Rows(ctx, s.h, func(y int) {
		if y < 2 || y >= s.h-2 {
			return
		}
		for x := 2; x < s.w-2; x++ {
			if r, ok := ridgeAt(s, x, y, sign); ok {
				perRow[y] = append(perRow[y], r)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	var bends []float32
	for _, row := range perRow {
		for i := 0; i < len(row); i += 4 {
			bends = append(bends, row[i].weight)
		}
	}
	out := &ridges{w: s.w/bucket + 1, h: s.h/bucket + 1}
	out.buckets = make([][]ridge, out.w*out.h)
	if len(bends) == 0 {
		return out, nil
	}
	slices.Sort(bends)
	// In a picture without grain the median is a line's own.
	least := min(overNoise*bends[len(bends)/2], 0.25*bends[len(bends)*49/50])
	for _, row := range perRow {
		for _, r := range row {
			if r.weight >= least {
				b := int(r.y)/bucket*out.w + int(r.x)/bucket
				out.buckets[b] = append(out.buckets[b], r)
				out.count++
			}
		}
	}
	return out, nil
}

// ridgeAt tests one pixel: the Hessian's larger bend, and the top of the parabola
// across it, which must fall into this pixel.
func ridgeAt(s *grey, x, y int, sign float32) (ridge, bool) {
	i := y*s.w + x
	v := s.v
	xx := sign * (v[i+1] - 2*v[i] + v[i-1])
	yy := sign * (v[i+s.w] - 2*v[i] + v[i-s.w])
	if xx+yy >= 0 {
		return ridge{}, false
	}
	xy := sign * (v[i+s.w+1] - v[i+s.w-1] - v[i-s.w+1] + v[i-s.w-1]) / 4
	dx, dy := sign*(v[i+1]-v[i-1])/2, sign*(v[i+s.w]-v[i-s.w])/2
	half := (xx - yy) / 2
	root := float32(math.Sqrt(float64(half*half + xy*xy)))
	low, high := (xx+yy)/2-root, (xx+yy)/2+root
	if -low < 0.1 || -low < 1.5*float32(math.Abs(float64(high))) {
		return ridge{}, false // flat, or a spot rather than a line
	}
	across := 0.5 * math.Atan2(float64(2*xy), float64(xx-yy)) // of the larger value
	across += math.Pi / 2
	sin, cos := math.Sincos(across)
	nx, ny := float32(cos), float32(sin)
	t := -(dx*nx + dy*ny) / low
	if ox, oy := t*nx, t*ny; ox >= -0.6 && ox <= 0.6 && oy >= -0.6 && oy <= 0.6 {
		angle := math.Mod(across+math.Pi/2, math.Pi)
		return ridge{float32(x) + ox, float32(y) + oy, float32(angle), -low}, true
	}
	return ridge{}, false
}

// smooth is a Gaussian blur of 1.1 pixels: a printed line is a pixel or two wide here.
func smooth(ctx context.Context, g *grey) (*grey, error) {
	const sigma = 1.1
	const half = 4
	var kernel [2*half + 1]float32
	sum := float32(0)
	for k := range kernel {
		d := float64(k - half)
		kernel[k] = float32(math.Exp(-d * d / (2 * sigma * sigma)))
		sum += kernel[k]
	}
	for k := range kernel {
		kernel[k] /= sum
	}
	tmp, out := make([]float32, len(g.v)), &grey{g.w, g.h, make([]float32, len(g.v))}
	err := cores.Rows(ctx, g.h, func(y int) {
		line := g.v[y*g.w : (y+1)*g.w]
		for x := range g.w {
			s := float32(0)
			for k, f := range kernel {
				s += f * line[min(max(x+k-half, 0), g.w-1)]
			}
			tmp[y*g.w+x] = s
		}
	})
	if err != nil {
		return nil, err
	}
	err = cores.Rows(ctx, g.h, func(y int) {
		to := out.v[y*g.w : (y+1)*g.w]
		for k, f := range kernel {
			from := tmp[min(max(y+k-half, 0), g.h-1)*g.w:]
			for x := range to {
				to[x] += f * from[x]
			}
		}
	})
	return out, err
}

// near calls visit for every ridge within reach of a place, by buckets: some
// farther off come too.
func (r *ridges) near(x, y, reach float64, visit func(ridge)) {
	x0, x1 := max(0, int(x-reach)/bucket), min(r.w-1, int(x+reach)/bucket)
	y0, y1 := max(0, int(y-reach)/bucket), min(r.h-1, int(y+reach)/bucket)
	for by := y0; by <= y1; by++ {
		for bx := x0; bx <= x1; bx++ {
			for _, p := range r.buckets[by*r.w+bx] {
				visit(p)
			}
		}
	}
}

// turnBetween is the angle between two line directions, 0 to π/2.
func turnBetween(a, b float64) float64 {
	d := math.Abs(a - b)
	for d >= math.Pi { // a turn or two; math.Mod costs more than all the rest
		d -= math.Pi
	}
	return min(d, math.Pi-d)
}
