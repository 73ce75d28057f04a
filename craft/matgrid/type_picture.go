package matgrid

import (
	"context"

	"scalewright/craft/cores"
)

// Picture is an upright photograph in the 8-bit values of its file, three a pixel.
type Picture struct {
	W, H int
	RGB  []uint8
}

// grey is one value a pixel: the mean of the three, as the file has them, which
// keeps lines of any ink apart from a mat of any colour.
type grey struct {
	w, h int
	v    []float32
}

// at is the value between pixels by bilinear interpolation, the border repeated.
func (g *grey) at(x, y float64) float64 {
	x = min(max(x, 0), float64(g.w-1))
	y = min(max(y, 0), float64(g.h-1))
	x0, y0 := min(int(x), g.w-2), min(int(y), g.h-2)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	i := y0*g.w + x0
	top := g.v[i] + fx*(g.v[i+1]-g.v[i])
	low := g.v[i+g.w] + fx*(g.v[i+g.w+1]-g.v[i+g.w])
	return float64(top + fy*(low-top))
}

// inside reports whether a place lies in the picture, margin pixels from its border.
func (g *grey) inside(x, y, margin float64) bool {
	return x >= margin && y >= margin && x <= float64(g.w-1)-margin && y <= float64(g.h-1)-margin
}

// greyOf is the photograph with n × n pixels averaged into one; its pixel (i, j)
// has its centre at n·i + (n-1)/2 of the photograph.
func greyOf(ctx context.Context, p Picture, n int) (*grey, error) {
	g := &grey{w: p.W / n, h: p.H / n}
	g.v = make([]float32, g.w*g.h)
	share := 1 / float32(3*n*n)
	err := cores.Rows(ctx, g.h, func(y int) {
		for x := range g.w {
			s := 0
			for dy := range n {
				i := 3 * ((y*n+dy)*p.W + x*n)
				for _, v := range p.RGB[i : i+3*n] {
					s += int(v)
				}
			}
			g.v[y*g.w+x] = float32(s) * share
		}
	})
	return g, err
}
