package matgrid

import (
	"cmp"
	"context"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// hatch is a patch of the photograph in which even short strokes stand side by
// side: the graduation of a ruler, the mat's own border.
type hatch struct {
	px    r2.Vec // middle, in the photograph
	at    r2.Vec // the same in steps of the grid
	waves r2.Vec // strokes a step, along the grid's two directions
}

// row is a row of such patches along a straight line.
type row struct {
	at    r2.Vec  // a place on it, steps
	dir   r2.Vec  // unit, along it
	waves float64 // strokes a step
	from  float64 // where it begins and ends along dir from at, steps
	to    float64
	count int // patches
}

const (
	patch      = 32 // side of a patch, pixels
	patchEvery = 16
	// A stroke must be at least leastWave pixels from the next to be told from it, and
	// there are at most manyWaves to a step: 1 mm on a one-inch grid is 25.4.
	leastWave, manyWaves = 2.2, 28.0
	// sureWave is how many times the median of waves of like length strokes must be.
	// Of noise (whose powers are exponential) the strongest of some hundred is
	// ln 100/ln 2 = 7 times the median.
	sureWave = 14.0
	// leastUnrest is the least standard deviation of light in a patch, of 255.
	leastUnrest = 2.0
)

// hatches looks through the photograph for patches of even strokes.
func hatches(ctx context.Context, g *printless, waves []float64) ([]hatch, error) {
	nx, ny := (g.grey.w-patch)/patchEvery, (g.grey.h-patch)/patchEvery
	perRow := make([][]hatch, max(ny, 0))
	err := cores.Rows(ctx, len(perRow), func(k int) {
		f := newSpectrum()
		for j := range nx {
			if h, ok := f.hatchAt(g, waves, j*patchEvery, k*patchEvery); ok {
				perRow[k] = append(perRow[k], h)
			}
		}
	})
	return slices.Concat(perRow...), err
}

// spectrum holds what the transform of one patch needs.
type spectrum struct {
	window [patch]float64
	light  [patch][patch]float64
	half   [patch][patch/2 + 1]complex128 // transformed along x
	power  [patch][patch/2 + 1]float64
	ring   []float64
}

func newSpectrum() *spectrum {
	s := &spectrum{}
	for i := range s.window { // Hann
		s.window[i] = 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/patch)
	}
	return s
}

// hatchAt tests one patch for so many strokes a step.
func (f *spectrum) hatchAt(g *printless, waves []float64, x0, y0 int) (hatch, bool) {
	var sum, sq float64
	for y := range patch {
		for _, p := range g.v[(y0+y)*g.grey.w+x0 : (y0+y)*g.grey.w+x0+patch] {
			sum += float64(p)
			sq += float64(p) * float64(p)
		}
	}
	const n = patch * patch
	if sq/n-sum/n*sum/n < leastUnrest*leastUnrest {
		return hatch{}, false
	}
	here, ok := g.affine(r2.Vec{X: float64(x0) + (patch-1)/2.0, Y: float64(y0) + (patch-1)/2.0})
	if !ok {
		return hatch{}, false
	}
	sum, sq = 0, 0
	for y := range patch {
		g.row(x0, y0+y, &here, f.light[y][:])
		for _, p := range f.light[y] {
			sum, sq = sum+p, sq+p*p
		}
	}
	mean := sum / n
	if sq/n-mean*mean < leastUnrest*leastUnrest {
		return hatch{}, false
	}
	f.transform(mean)
	at, s0, s1 := here.at, here.step[0], here.step[1]
	step := (r2.Norm(s0) + r2.Norm(s1)) / 2
	best, px, py := 0.0, 0, 0
	for y := range patch {
		fy := float64((y+patch/2)%patch - patch/2)
		for x := range patch/2 + 1 {
			p := f.power[y][x]
			if p <= best {
				continue
			}
			perPixel := math.Hypot(float64(x), fy) / patch
			if perPixel*leastWave > 1 || !likeOne(perPixel*step, waves, 0.5*step/patch) || !f.tops(x, y) {
				continue
			}
			best, px, py = p, x, y
		}
	}
	if best == 0 || best < sureWave*f.about(px, py) {
		return hatch{}, false
	}
	// A Hann window spreads one wave over its neighbours; their mean is its place.
	var share, mx, my float64
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			p := f.powerAt(px+dx, py+dy)
			share += p
			mx, my = mx+p*float64(dx), my+p*float64(dy)
		}
	}
	wx := (float64(px) + mx/share) / patch
	wy := (float64((py+patch/2)%patch-patch/2) + my/share) / patch
	h := hatch{px: here.px, at: at, waves: r2.Vec{X: wx*s0.X + wy*s0.Y, Y: wx*s1.X + wy*s1.Y}}
	if h.waves.X < 0 || (h.waves.X == 0 && h.waves.Y < 0) {
		h.waves = r2.Scale(-1, h.waves)
	}
	return h, likeOne(r2.Norm(h.waves), waves, 0.25*step/patch)
}

// likeOne reports whether a count of strokes is one of those, give or take what mats
// are misprinted by and some more.
func likeOne(count float64, waves []float64, more float64) bool {
	for _, w := range waves {
		if math.Abs(count-w) < likeStep*w+more {
			return true
		}
	}
	return false
}

// tops reports whether a wave is stronger than those next to it: not the flank of
// something slower, as the waves of an edge are.
func (f *spectrum) tops(x, y int) bool {
	p := f.power[y][x]
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if f.powerAt(x+dx, y+dy) > p {
				return false
			}
		}
	}
	return true
}

// about is the median strength of the waves of like length all round; an edge has
// its own in one direction only.
func (f *spectrum) about(px, py int) float64 {
	f.ring = f.ring[:0]
	qy := (py+patch/2)%patch - patch/2
	long := float64(px*px + qy*qy)
	for y := -patch / 2; y < patch/2; y++ {
		for x := range patch/2 + 1 {
			if d := float64(x*x + y*y); d < 0.5*long || d > 2*long+8 || max(x-px, px-x, y-qy, qy-y) <= 2 {
				continue
			}
			f.ring = append(f.ring, f.powerAt(x, y))
		}
	}
	if len(f.ring) == 0 {
		return math.Inf(1)
	}
	slices.Sort(f.ring)
	return f.ring[len(f.ring)/2]
}

// powerAt reads the half plane that the transform of real values leaves out from
// its mirror.
func (f *spectrum) powerAt(x, y int) float64 {
	if x < 0 {
		x, y = -x, -y
	}
	if x > patch/2 {
		x, y = patch-x, -y
	}
	return f.power[y&(patch-1)][x]
}

// transform takes the patch to the power of its waves: rows two at a time, one as
// the real and one as the imaginary part, then columns.
func (f *spectrum) transform(mean float64) {
	var z [patch]complex128
	for y := 0; y < patch; y += 2 {
		for x := range z {
			w := f.window[x]
			z[x] = complex((f.light[y][x]-mean)*w*f.window[y], (f.light[y+1][x]-mean)*w*f.window[y+1])
		}
		fourier(&z)
		for x := range patch/2 + 1 {
			a, b := z[x], cmplx.Conj(z[-x&(patch-1)])
			f.half[y][x] = (a + b) / 2
			d := (a - b) / 2
			f.half[y+1][x] = complex(imag(d), -real(d))
		}
	}
	for x := range patch/2 + 1 {
		for y := range z {
			z[y] = f.half[y][x]
		}
		fourier(&z)
		for y, c := range z {
			f.power[y][x] = real(c)*real(c) + imag(c)*imag(c)
		}
	}
}

// How alike patches of one row are.
const (
	sameWaves = 0.05 // of the strokes a step
	besideRow = 0.3  // steps off its line
	leastRow  = 8    // patches in a row
	longRow   = 2.5  // steps
	closeRow  = 72.0 // pixels from patch to patch of a stretch
	leastRun  = 5    // patches in it
	// leastDense is the least of patches over places for them along a stretch.
	leastDense = 0.7
	mostRows   = 8
)

// rowsOf gathers patches into rows, the longest first.
func rowsOf(all []hatch) []row {
	left := accompanied(all)
	var out []row
	for len(left) >= leastRow && len(out) < mostRows {
		var best row
		var taken []bool
		for k := 0; k < len(left); k += max(1, len(left)/200) {
			r, in := rowThrough(left, left[k])
			if r.count > best.count {
				best, taken = r, in
			}
		}
		if best.count < leastRow {
			break
		}
		var rest, own []hatch
		for k, h := range left {
			if taken[k] {
				own = append(own, h)
			} else {
				rest = append(rest, h)
			}
		}
		left = rest
		if best.gather(own); best.count >= leastRow && best.to-best.from >= longRow {
			out = append(out, best)
		}
	}
	slices.SortStableFunc(out, func(a, b row) int { return cmp.Compare(b.count, a.count) })
	return out
}

// accompanied leaves out the patches without two others like them close by: grain
// and scratches, which are most.
func accompanied(all []hatch) (out []hatch) {
	type cell struct{ x, y int }
	in := map[cell][]int{}
	of := func(h hatch) cell { return cell{int(h.px.X / closeRow), int(h.px.Y / closeRow)} }
	for k, h := range all {
		in[of(h)] = append(in[of(h)], k)
	}
	for k, h := range all {
		c, n := of(h), 0
		for x := c.x - 1; x <= c.x+1; x++ {
			for y := c.y - 1; y <= c.y+1; y++ {
				for _, j := range in[cell{x, y}] {
					if j != k && r2.Norm(r2.Sub(all[j].px, h.px)) < closeRow && h.like(all[j].waves) {
						n++
					}
				}
			}
		}
		if n >= 2 {
			out = append(out, h)
		}
	}
	return out
}

// like reports whether a patch's strokes are those, whichever way they are counted.
func (h hatch) like(waves r2.Vec) bool {
	most := sameWaves*r2.Norm(waves) + 0.3
	return min(r2.Norm(r2.Sub(h.waves, waves)), r2.Norm(r2.Add(h.waves, waves))) < most
}

// gather keeps the stretches of a row in which patches stand close together, and
// counts those: what is left of the grid's lines makes scattered ones.
func (r *row) gather(own []hatch) {
	along := func(h hatch) float64 { return r2.Dot(r2.Sub(h.at, r.at), r.dir) }
	slices.SortStableFunc(own, func(a, b hatch) int { return cmp.Compare(along(a), along(b)) })
	r.count, r.from, r.to = 0, math.Inf(1), math.Inf(-1)
	for k := 0; k < len(own); {
		n := k + 1
		for n < len(own) && r2.Norm(r2.Sub(own[n].px, own[n-1].px)) < closeRow {
			n++
		}
		long := r2.Norm(r2.Sub(own[n-1].px, own[k].px)) / patchEvery
		if n-k >= leastRun && float64(n-k) > leastDense*long {
			r.count += n - k
			r.from, r.to = min(r.from, along(own[k])), max(r.to, along(own[n-1]))
		}
		k = n
	}
}

// rowThrough is the row of the patches like one, on a line through it along its
// strokes' march; the march is taken again from all that were found.
func rowThrough(all []hatch, h hatch) (row, []bool) {
	waves, at := h.waves, h.at
	in := make([]bool, len(all))
	var r row
	for range 3 {
		dir := r2.Unit(waves)
		n := r2.Vec{X: -dir.Y, Y: dir.X}
		var sum, mid r2.Vec
		var s, st, stt, so, sto float64
		r = row{at: at, dir: dir, from: math.Inf(1), to: math.Inf(-1)}
		for k, q := range all {
			d := r2.Sub(q.at, at)
			in[k] = math.Abs(r2.Dot(d, n)) < besideRow && q.like(waves)
			if !in[k] {
				continue
			}
			if r2.Dot(q.waves, waves) < 0 {
				q.waves = r2.Scale(-1, q.waves)
			}
			t, o := r2.Dot(d, dir), r2.Dot(d, n)
			s, st, stt, so, sto = s+1, st+t, stt+t*t, so+o, sto+t*o
			sum, mid = r2.Add(sum, q.waves), r2.Add(mid, q.at)
			r.from, r.to = min(r.from, t), max(r.to, t)
			r.count++
		}
		if r.count < 3 {
			return r, in
		}
		waves = r2.Scale(1/float64(r.count), sum)
		r.waves = r2.Norm(waves)
		// The line itself: through the patches' middles, if they are far apart.
		if det := s*stt - st*st; det > 1e-6*s*stt && r.to-r.from > longRow {
			b := (s*sto - st*so) / det
			dir = r2.Unit(r2.Add(dir, r2.Scale(b, n)))
			waves = r2.Scale(r.waves, dir)
		}
		at = r2.Scale(1/float64(r.count), mid)
	}
	return r, in
}
