package measure

import (
	"context"

	"scalewright/craft/cores"
)

// The two are parted by total variation: min ∫ g|∇u| + ∫ f·u over 0 ≤ u ≤ 1, whose
// level sets are cuts of least cost (Chan, Esedoğlu & Nikolova, SIAM J. Appl. Math. 66
// (2006) 1632-1648), by the primal-dual steps of Chambolle & Pock, J. Math. Imaging
// Vis. 40 (2011) 120-145.
const cutSteps = 120

// part is the cut: u near one on the object.
func (p patch) part(ctx context.Context, f []float64, on []bool) ([]float64, error) {
	w, h := p.w, p.h
	u, bar := make([]float64, w*h), make([]float64, w*h)
	px, py := make([]float64, w*h), make([]float64, w*h)
	gx, gy := p.border()
	for i, o := range on {
		if o {
			u[i], bar[i] = 1, 1
		}
	}
	const tau, sigma = 0.35, 0.35 // tau·sigma·8 < 1
	for range cutSteps {
		err := cores.Rows(ctx, h, func(y int) {
			for x := range w {
				i := y*w + x
				if x+1 < w {
					px[i] = min(max(px[i]+sigma*(bar[i+1]-bar[i]), -gx[i]), gx[i])
				}
				if y+1 < h {
					py[i] = min(max(py[i]+sigma*(bar[i+w]-bar[i]), -gy[i]), gy[i])
				}
			}
		})
		if err != nil {
			return nil, err
		}
		if err = cores.Rows(ctx, h, func(y int) {
			for x := range w {
				i := y*w + x
				d := px[i] + py[i]
				if x > 0 {
					d -= px[i-1]
				}
				if y > 0 {
					d -= py[i-w]
				}
				v := min(max(u[i]+tau*(d-f[i]), 0), 1)
				bar[i] = 2*v - u[i]
				u[i] = v
			}
		}); err != nil {
			return nil, err
		}
	}
	return u, nil
}

// border is the cost of parting two neighbours.
func (p patch) border() (gx, gy []float64) {
	gx, gy = make([]float64, p.w*p.h), make([]float64, p.w*p.h)
	for i := range gx {
		k := p.full(i)
		if i%p.w+1 < p.w {
			gx[i] = p.glimpse(k).border(p.glimpse(k + 1))
		}
		if i+p.w < len(gx) {
			gy[i] = p.glimpse(k).border(p.glimpse(k + p.wide))
		}
	}
	return gx, gy
}

// mask is the patch that shares most with the mask before, its holes filled; none
// where nothing is left.
func (p patch) mask(u []float64, before grid) grid {
	g := grid{before.w, before.h, make([]bool, len(before.on))}
	all := make([]bool, len(before.on))
	for y := range p.h {
		for x := range p.w {
			i := (p.y0+y)*g.w + p.x0 + x
			g.on[i] = u[y*p.w+x] > 0.5
			all[i] = true
		}
	}
	best, most := blob{}, 0
	for _, b := range g.blobs(all) {
		n := 0
		for _, i := range b.pixels {
			if before.on[i] {
				n++
			}
		}
		if n > most {
			best, most = b, n
		}
	}
	if most == 0 {
		return grid{}
	}
	return g.only(best)
}
