package measure

import (
	"context"
	"math"
)

// The cut parts object and mat by what whole patches look like. A pixel has three
// marks: its light and its tint against the bare mat's, and its grain, the unrest of
// its light over its surroundings. A mat has grain, and its printed lines have more;
// it keeps both in shadow. A turned, painted or polished object has little, so that
// "grid still visible" tells mat from an object of the mat's own colour.
//
// How often marks occur on mat and on object is counted, and the two are parted
// along the shortest border by total variation: min ∫ g|∇u| + ∫ f·u over 0 ≤ u ≤ 1,
// whose level sets are cuts of least cost (Chan, Esedoğlu & Nikolova, SIAM J. Appl.
// Math. 66 (2006) 1632-1648), by the primal-dual steps of Chambolle & Pock, J. Math.
// Imaging Vis. 40 (2011) 120-145.
const (
	lightSteps, tintSteps, grainSteps = 28, 12, 12
	darkest, lightStep, tintStep      = 3.0, 0.25, 0.25
	cutRounds                         = 6   // of counting and parting
	cutSteps                          = 120 // of the primal-dual iteration
	cutBorder                         = 1.6 // cost of a pixel of border over plain ground, nats
	cutTrust                          = 3.0 // most that one pixel may say, nats
	cutRoom                           = 0.2 // of the object's length looked at round it
	lineBorder                        = 0.5 // of it, over the grid's own lines
	cutClear                          = 6.0 // mm
	unseenShare                       = 0.03
)

// boxes is how many kinds of pixel are counted.
const boxes = lightSteps * tintSteps * grainSteps

// patch is a rectangle of the reduced picture with each pixel's box.
type patch struct {
	x0, y0, w, h int
	box          []uint16
	light        []float32 // logarithm over the bare mat's
}

// patchAround looks at the rectangle round a mask, with room to grow.
func (m ground) patchAround(ctx context.Context, g grid) (patch, error) {
	x0, y0, x1, y1 := g.w, g.h, 0, 0
	for i, on := range g.on {
		if on {
			x, y := i%g.w, i/g.w
			x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
		}
	}
	room := int(cutRoom*math.Hypot(float64(x1-x0), float64(y1-y0))) + 10
	x0, y0, x1, y1 = max(x0-room, 2), max(y0-room, 2), min(x1+room, g.w-3), min(y1+room, g.h-3)
	p := patch{x0: x0, y0: y0, w: x1 - x0 + 1, h: y1 - y0 + 1}
	p.box, p.light = make([]uint16, p.w*p.h), make([]float32, p.w*p.h)
	err := rows(ctx, p.h, func(y int) {
		for x := range p.w {
			q := m.bare.ratio(x0+x, y0+y)
			light := (q[0] + q[1] + q[2]) / 3
			p.light[y*p.w+x] = float32(light)
			p.box[y*p.w+x] = boxOf(light, math.Hypot(q[0]-q[1], q[2]-q[1]), m.grain(x0+x, y0+y))
		}
	})
	return p, err
}

func boxOf(light, tint, grain float64) uint16 {
	l := min(max(int((light+darkest)/lightStep), 0), lightSteps-1)
	t := min(int(tint/tintStep), tintSteps-1)
	g := min(max(int((math.Log(grain+1e-4)+6.5)/0.5), 0), grainSteps-1)
	return uint16((l*tintSteps+t)*grainSteps + g)
}

// grain is the standard deviation of the light in the 5 × 5 pixels round one, over
// their mean.
func (m ground) grain(x, y int) float64 {
	r := m.reduced
	var s, ss float64
	for dy := -2; dy <= 2; dy++ {
		i := 3 * ((y+dy)*r.w + x - 2)
		for k := 0; k < 15; k += 3 {
			v := float64(r.lin[i+k] + r.lin[i+k+1] + r.lin[i+k+2])
			s += v
			ss += v * v
		}
	}
	mean := s / 25
	return math.Sqrt(max(0, ss/25-mean*mean)) / (mean + 3*lightFloor)
}

// cut draws the object's mask anew from a first guess of it.
func (m ground) cut(ctx context.Context, g grid) (grid, error) {
	for range cutRounds {
		p, err := m.patchAround(ctx, g)
		if err != nil {
			return g, err
		}
		on := p.of(g)
		sure, beside := m.sureMat(p)
		f := p.odds(on, beside, p.of(g.grow(int(math.Ceil(cutClear*m.scale)), true)), m.aside(p, g))
		for i, mat := range sure {
			if mat {
				f[i] = cutTrust
			}
		}
		m.told(p, f)
		u, err := p.part(ctx, f, on, m.printed(p))
		if err != nil {
			return g, err
		}
		next := p.mask(u, g)
		if next.on == nil {
			return g, nil
		}
		change := next.unlike(g)
		g = next
		if change*500 < next.count() {
			break
		}
	}
	return g, nil
}

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

// of is a mask within the patch.
func (p patch) of(g grid) []bool {
	on := make([]bool, p.w*p.h)
	for y := range p.h {
		copy(on[y*p.w:(y+1)*p.w], g.on[(p.y0+y)*g.w+p.x0:])
	}
	return on
}

// zone is what a pixel that is not the object's may be.
type zone uint8

const (
	overMat zone = iota
	overRuler
)

// aside is which pixels of the patch may show the ruler instead of the mat.
func (m ground) aside(p patch, g grid) []zone {
	out := make([]zone, p.w*p.h)
	for _, face := range m.faces {
		for y := range p.h {
			for x := range p.w {
				if face[(p.y0+y)*g.w+p.x0+x] {
					out[y*p.w+x] = overRuler
				}
			}
		}
	}
	return out
}

// odds is, for each pixel, the logarithm of how likely its marks are of what lies
// there if not the object, over how likely of the object.
//
// On the ruler, what lies close to the object as it is drawn so far may belong to it
// and is not counted; on the mat the shadow lies there.
func (p patch) odds(on, beside, near []bool, zones []zone) []float64 {
	object := p.count(func(i int) bool { return on[i] })
	other := [2][]float64{
		overMat:   p.mat(beside, func(i int) bool { return !on[i] && zones[i] == overMat }),
		overRuler: p.count(func(i int) bool { return !near[i] && zones[i] == overRuler }),
	}
	f := make([]float64, len(on))
	for i := range f {
		b := p.box[i]
		f[i] = min(max(math.Log(other[zones[i]][b]/object[b]), -cutTrust), cutTrust)
	}
	return f
}

// count is the share of each box among some pixels, softened over neighbouring
// boxes, with a little for what was never seen.
func (p patch) count(which func(i int) bool) []float64 {
	n := make([]float64, boxes)
	total := 0.0
	for i, b := range p.box {
		if which(i) {
			n[b]++
			total++
		}
	}
	for _, stride := range [3]int{1, grainSteps, grainSteps * tintSteps} {
		steps := map[int]int{1: grainSteps, grainSteps: tintSteps, grainSteps * tintSteps: lightSteps}[stride]
		soft := make([]float64, boxes)
		for b := range n {
			k := b / stride % steps
			soft[b] += n[b] / 2
			low, high := b, b
			if k > 0 {
				low = b - stride
			}
			if k < steps-1 {
				high = b + stride
			}
			soft[low] += n[b] / 4
			soft[high] += n[b] / 4
		}
		n = soft
	}
	for b := range n {
		n[b] = (1-unseenShare)*n[b]/max(total, 1) + unseenShare/boxes
	}
	return n
}

// mat counts the mat: all that is not the object, the same in shadow, and, as much
// again, what is seen of it in real shadow beside lines that show.
func (p patch) mat(beside []bool, which func(i int) bool) []float64 {
	n := shaded(p.count(which))
	dark := 0
	inShadow := func(i int) bool { return beside[i] && p.light[i] < shadowLight }
	for i := range beside {
		if inShadow(i) {
			dark++
		}
	}
	if dark < leastShadow {
		return n
	}
	for b, v := range p.count(inShadow) {
		n[b] = (n[b] + v) / 2
	}
	return n
}

// shadowLight is the logarithm of light below which the mat lies in shadow, and
// leastShadow how many pixels say how it looks there.
const (
	shadowLight = -0.3
	leastShadow = 300
)

// shadowShare is how much of the mat is taken to lie in a shadow of any depth.
const shadowShare = 0.35

// shaded lets every tint and grain of the mat occur in shadow too, the grain there
// also a step weaker, since the dark end of a photograph is flat.
func shaded(n []float64) []float64 {
	const stride = tintSteps * grainSteps
	const deep, full = 4, 13 // boxes: a seventh of the light, and a quarter more than full
	out := make([]float64, len(n))
	for k := range stride {
		sum := 0.0
		for l := range lightSteps {
			sum += n[l*stride+k] / 2
			if k%grainSteps+1 < grainSteps {
				sum += n[l*stride+k+1] / 2
			}
		}
		for l := range lightSteps {
			out[l*stride+k] = (1 - shadowShare) * n[l*stride+k]
			if l >= deep && l <= full {
				out[l*stride+k] += shadowShare * sum / float64(full-deep+1)
			}
		}
	}
	return out
}

// part is the cut: u near one on the object.
func (p patch) part(ctx context.Context, f []float64, on, printed []bool) ([]float64, error) {
	w, h := p.w, p.h
	u, bar := make([]float64, w*h), make([]float64, w*h)
	px, py := make([]float64, w*h), make([]float64, w*h)
	gx, gy := p.border(printed)
	for i, o := range on {
		if o {
			u[i], bar[i] = 1, 1
		}
	}
	const tau, sigma = 0.35, 0.35 // tau·sigma·8 < 1
	for range cutSteps {
		err := rows(ctx, h, func(y int) {
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
		if err = rows(ctx, h, func(y int) {
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

// printed is where the patch may show a line of the grid.
func (m ground) printed(p patch) []bool {
	out := make([]bool, p.w*p.h)
	for i := range out {
		at, ok := m.cam.OnPlane(m.reduced.full(float64(p.x0+i%p.w), float64(p.y0+i/p.w)), 0)
		if !ok {
			continue
		}
		dx := at.X - math.Round(at.X/m.pitch[0])*m.pitch[0]
		dy := at.Y - math.Round(at.Y/m.pitch[1])*m.pitch[1]
		out[i] = math.Abs(dx) < lineAside || math.Abs(dy) < lineAside
	}
	return out
}

// border is the cost of parting two neighbours: less where their light differs, but
// for the grid's own lines.
func (p patch) border(printed []bool) (gx, gy []float64) {
	gx, gy = make([]float64, len(p.light)), make([]float64, len(p.light))
	const step = 0.25 // of the logarithm of light: an edge rather than grain
	cost := func(a, b float32) float64 {
		d := float64(a-b) / step
		return cutBorder * (0.1 + 0.9*math.Exp(-d*d/2))
	}
	for i := range p.light {
		if printed[i] {
			gx[i], gy[i] = lineBorder*cutBorder, lineBorder*cutBorder
			continue
		}
		if i%p.w+1 < p.w {
			gx[i] = cost(p.light[i], p.light[i+1])
		}
		if i+p.w < len(p.light) {
			gy[i] = cost(p.light[i], p.light[i+p.w])
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
