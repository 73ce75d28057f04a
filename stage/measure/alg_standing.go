package measure

import (
	"context"
	"math"
)

// What stands out of a turned body, a fin or a handle, need not be alike on both sides;
// and between a fin and the body, where the widest outline lies over both, the mat can
// show. Both are looked for with the body as it was found for a start.
const (
	standingThin  = 0.8 // mm: what is thinner is a printed line or a shadow's edge
	standingLeast = 4.0 // mm²
	standingSure  = 0.3 // mean of what the pixels must say for it, nats
	bodySays      = 0.5 // nats, for what lies within the body
)

// withWings adds to the body what stands out of it and takes away where mat shows.
func (m ground) withWings(ctx context.Context, g grid, by trust) (grid, error) {
	p := m.patchAround(g)
	say := m.odds(p, g, by)
	on := p.of(g)
	held := make([]float64, len(say))
	for i, s := range say {
		held[i] = s
		if on[i] {
			held[i] -= bodySays
		}
	}
	m.told(p, held)
	u, err := p.part(ctx, held, on)
	if err != nil {
		return g, err
	}
	freely := p.mask(u, g)
	if freely.on == nil {
		return g, nil
	}
	out := g.clone()
	for _, i := range m.sure(p, freely, g, say, -1) {
		out.on[i] = true
	}
	for _, i := range m.sure(p, g, freely, say, 1) {
		out.on[i] = false
	}
	return out.grow(1, true).grow(1, false), nil
}

// sure lists the pixels of one mask beyond another, in patches of some width that say
// clearly, with that sign, what they are.
func (m ground) sure(p patch, of, beyond grid, say []float64, sign float64) (out []int) {
	g := of.clone()
	for i, on := range beyond.on {
		g.on[i] = g.on[i] && !on
	}
	thin := max(1, int(math.Ceil(standingThin/2*m.scale)))
	g = g.grow(thin, false).grow(thin, true)
	all := make([]bool, len(g.on))
	for i := range all {
		all[i] = true
	}
	for _, b := range g.blobs(all) {
		sum, n := 0.0, float64(len(b.pixels))
		for _, i := range b.pixels {
			x, y := i%g.w-p.x0, i/g.w-p.y0
			if x >= 0 && y >= 0 && x < p.w && y < p.h {
				sum += sign * say[y*p.w+x]
			}
		}
		if n >= standingLeast*m.scale*m.scale && sum/n > standingSure {
			out = append(out, b.pixels...)
		}
	}
	return out
}
