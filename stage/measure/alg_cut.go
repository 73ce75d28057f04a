package measure

import (
	"context"
	"math"
	"sync"
)

// The cut parts object and mat by what whole patches look like: how often each look
// occurs on mat and on object is counted, and the two are parted along the shortest
// border. That is done by turns, since the parting says anew which look is whose.
const (
	cutRounds   = 6   // of counting and parting
	cutTrust    = 3.0 // most that one pixel may say, nats
	cutRoom     = 0.2 // of the object's length looked at round it
	cutClear    = 6.0 // mm
	marginClear = 3.0 // mm, of an object that does not reach over the grid's end
	unseenShare = 0.03
)

// patch is a rectangle of the reduced picture.
type patch struct {
	*look
	x0, y0, w, h int
	wide         int // of the whole picture
}

// patchAround is the rectangle round a mask, with room to grow.
func (m ground) patchAround(g grid) patch {
	x0, y0, x1, y1 := g.w, g.h, 0, 0
	for i, on := range g.on {
		if on {
			x, y := i%g.w, i/g.w
			x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
		}
	}
	room := int(cutRoom*math.Hypot(float64(x1-x0), float64(y1-y0))) + 10
	x0, y0, x1, y1 = max(x0-room, 2), max(y0-room, 2), min(x1+room, g.w-3), min(y1+room, g.h-3)
	return patch{look: m.looks, x0: x0, y0: y0, w: x1 - x0 + 1, h: y1 - y0 + 1, wide: g.w}
}

// full is the whole picture's pixel of one of the patch.
func (p patch) full(i int) int { return (p.y0+i/p.w)*p.wide + p.x0 + i%p.w }

// cutout is an object cut out of the picture: its mask, the plane through its axis, and
// which share of it is not alike on both sides of that.
type cutout struct {
	mask  grid
	plane midplane
	odd   float64
}

// cut draws the object's mask anew from a first guess of it; ok is false where nothing
// is parted from the mat. Of what comes out by more or less trust the one with the
// sharper border is the object: a shadow's is soft.
func (m ground) cut(ctx context.Context, first grid) (out cutout, ok bool, err error) {
	m.within = m.clearWithin(first)
	var all [len(trusts)]parted
	var each sync.WaitGroup
	for k, by := range trusts {
		each.Go(func() { all[k] = m.body(ctx, first, by) })
	}
	each.Wait()
	sharpest := math.Inf(1)
	for k, by := range trusts {
		body := all[k]
		if body.err != nil {
			return out, false, body.err
		}
		if blunt := m.looks.blunt(body.mask); body.ok && blunt < sharpest {
			sharpest, ok = blunt, true
			if out.mask, err = m.withWings(ctx, body.mask, by); err != nil {
				return out, false, err
			}
			out.plane = body.plane
			out.odd = float64(out.mask.unlike(body.mask)) / float64(max(out.mask.count(), 1))
		}
	}
	return out, ok, nil
}

// clearWithin reports whether an object lies clear of where the grid ends.
func (m ground) clearWithin(g grid) bool {
	for i, on := range g.grow(int(math.Ceil(marginClear*m.scale)), true).on {
		if on && !m.region[i] {
			return false
		}
	}
	return true
}

// parted is the turned body of an object; ok is false where nothing is parted from the mat.
type parted struct {
	mask  grid
	plane midplane
	ok    bool
	err   error
}

// body is the turned body of the object.
func (m ground) body(ctx context.Context, g grid, by trust) parted {
	out := parted{mask: g}
	for range cutRounds {
		p := m.patchAround(g)
		q, body, ok, err := p.settle(ctx, m, m.midplaneOf(g), m.odds(p, g, by))
		if err != nil || !ok {
			out.err = err
			return out
		}
		next := body.mask(m)
		change := next.unlike(g)
		g = next
		out.mask, out.plane = next, q
		if change*cutSame < next.count() {
			break
		}
	}
	out.ok = true
	return out
}

// blunt is the mean cost of a mask's border: little where the colour changes at it.
func (l *look) blunt(g grid) float64 {
	sum, n := 0.0, 0.0
	part := func(i, j int) {
		if g.on[i] != g.on[j] {
			sum += l.glimpse(i).border(l.glimpse(j))
			n++
		}
	}
	for y := range g.h - 1 {
		for x := range g.w - 1 {
			part(y*g.w+x, y*g.w+x+1)
			part(y*g.w+x, (y+1)*g.w+x)
		}
	}
	return sum / max(n, 1)
}

// cutSame: less than this share of the mask changed, its inverse, ends the rounds.
const cutSame = 500

// told lets strokes have their way over all that pixels say.
func (m ground) told(p patch, f []float64) {
	const always = 100 // nats
	for _, b := range m.brushes {
		say := float64(always)
		if b.In {
			say = -always
		}
		m.painted(b, func(i int) {
			x, y := i%m.reduced.w-p.x0, i/m.reduced.w-p.y0
			if x >= 0 && y >= 0 && x < p.w && y < p.h {
				f[y*p.w+x] = say
			}
		})
	}
}

// unlike counts the pixels in which two masks differ.
func (g grid) unlike(o grid) (n int) {
	for i, on := range g.on {
		if on != o.on[i] {
			n++
		}
	}
	return n
}
