package matgrid

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// hatch is a patch of the photograph in which even short strokes stand side by
// side: the graduation of a ruler, the mat's own border.
type hatch struct {
	at    r2.Vec // middle, in steps of the grid
	waves r2.Vec // strokes a step, along the grid's two directions
	sure  float64
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
	// A stroke must be at least this many pixels from the next to be told from it,
	// and there are from 5.5 to 28 to a step (1/16 in on a centimetre grid is 6.3, 1 mm
	// on a one-inch grid 25.4; the grid's own lines make fewer).
	leastWave, fewWaves, manyWaves = 2.2, 5.5, 28.0
	// sureWave is the least share of a patch's whole unrest that the strokes make up.
	sureWave = 0.22
	// allUnrest is from how many waves a step on unrest is counted: slower is light
	// and shade.
	allUnrest = 1.5
	// leastUnrest is the least standard deviation of light in a patch, of 255.
	leastUnrest = 4.0
)

// view takes places of the photograph to steps of the grid and back.
type view struct {
	cam  camera.Camera // over a mat with ten to a step
	w, h int
}

func (v view) steps(px r2.Vec) (r2.Vec, bool) {
	p, ok := v.cam.OnPlane(px, 0)
	return r2.Vec{X: p.X / 10, Y: p.Y / 10}, ok
}

func (v view) px(s r2.Vec) (r2.Vec, bool) {
	return v.cam.Project(vec3(s))
}

// hatches looks through the photograph for patches of even strokes.
func hatches(ctx context.Context, g *grey, v view) ([]hatch, error) {
	nx, ny := (g.w-patch)/patchEvery, (g.h-patch)/patchEvery
	perRow := make([][]hatch, max(ny, 0))
	err := rows(ctx, len(perRow), func(k int) {
		f := newSpectrum()
		for j := range nx {
			if h, ok := f.hatchAt(g, v, j*patchEvery, k*patchEvery); ok {
				perRow[k] = append(perRow[k], h)
			}
		}
	})
	return slices.Concat(perRow...), err
}

// spectrum holds what the transform of one patch needs.
type spectrum struct {
	along  *fourier.FFT
	across *fourier.CmplxFFT
	window [patch]float64
	line   []float64
	coef   []complex128
	column []complex128
	rows   [patch][patch/2 + 1]complex128
	power  [patch][patch/2 + 1]float64
}

func newSpectrum() *spectrum {
	s := &spectrum{
		along: fourier.NewFFT(patch), across: fourier.NewCmplxFFT(patch),
		line: make([]float64, patch), coef: make([]complex128, patch/2+1), column: make([]complex128, patch),
	}
	for i := range s.window { // Hann
		s.window[i] = 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/patch)
	}
	return s
}

// hatchAt tests one patch.
func (f *spectrum) hatchAt(g *grey, v view, x0, y0 int) (hatch, bool) {
	var sum, sq float64
	for y := range patch {
		for _, p := range g.v[(y0+y)*g.w+x0 : (y0+y)*g.w+x0+patch] {
			sum += float64(p)
			sq += float64(p) * float64(p)
		}
	}
	const n = patch * patch
	mean := sum / n
	if sq/n-mean*mean < leastUnrest*leastUnrest {
		return hatch{}, false
	}
	middle := r2.Vec{X: float64(x0) + (patch-1)/2.0, Y: float64(y0) + (patch-1)/2.0}
	at, ok := v.steps(middle)
	if !ok {
		return hatch{}, false
	}
	a, ok0 := v.px(r2.Add(at, r2.Vec{X: 0.5}))
	b, ok1 := v.px(r2.Add(at, r2.Vec{Y: 0.5}))
	if !ok0 || !ok1 {
		return hatch{}, false
	}
	s0, s1 := r2.Scale(2, r2.Sub(a, middle)), r2.Scale(2, r2.Sub(b, middle))
	f.transform(g, x0, y0, mean)
	best, px, py, total := 0.0, 0, 0, 0.0
	step := (r2.Norm(s0) + r2.Norm(s1)) / 2
	for y := range patch {
		fy := float64((y+patch/2)%patch - patch/2)
		for x := range patch/2 + 1 {
			waves := math.Hypot(float64(x), fy) / patch // per pixel
			if waves*step < allUnrest {
				continue
			}
			total += f.power[y][x]
			if waves*leastWave > 1 || waves*step > manyWaves || waves*step < fewWaves-1 {
				continue
			}
			if f.power[y][x] > best {
				best, px, py = f.power[y][x], x, y
			}
		}
	}
	if best == 0 {
		return hatch{}, false
	}
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if f.powerAt(px+dx, py+dy) > best {
				return hatch{}, false // the flank of something slower
			}
		}
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
	if share < sureWave*total {
		return hatch{}, false
	}
	wx := (float64(px) + mx/share) / patch
	wy := (float64((py+patch/2)%patch-patch/2) + my/share) / patch
	h := hatch{at: at, waves: r2.Vec{X: wx*s0.X + wy*s0.Y, Y: wx*s1.X + wy*s1.Y}, sure: share / total}
	if h.waves.X < 0 || (h.waves.X == 0 && h.waves.Y < 0) {
		h.waves = r2.Scale(-1, h.waves)
	}
	return h, r2.Norm(h.waves) > fewWaves && r2.Norm(h.waves) < manyWaves
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
	return f.power[((y%patch)+patch)%patch][x]
}

func (f *spectrum) transform(g *grey, x0, y0 int, mean float64) {
	for y := range patch {
		for x := range patch {
			f.line[x] = (float64(g.v[(y0+y)*g.w+x0+x]) - mean) * f.window[x] * f.window[y]
		}
		f.along.Coefficients(f.coef, f.line)
		copy(f.rows[y][:], f.coef)
	}
	for x := range patch/2 + 1 {
		for y := range patch {
			f.column[y] = f.rows[y][x]
		}
		f.across.Coefficients(f.column, f.column)
		for y, c := range f.column {
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
)

// rowsOf gathers patches into rows, the longest first.
func rowsOf(all []hatch) []row {
	left := slices.Clone(all)
	var out []row
	for len(left) >= leastRow && len(out) < 12 {
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
		var rest []hatch
		for k, h := range left {
			if !taken[k] {
				rest = append(rest, h)
			}
		}
		left = rest
		if best.to-best.from >= longRow {
			out = append(out, best)
		}
	}
	slices.SortStableFunc(out, func(a, b row) int { return cmp.Compare(b.count, a.count) })
	return out
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
			if r2.Dot(q.waves, waves) < 0 {
				q.waves = r2.Scale(-1, q.waves)
			}
			d := r2.Sub(q.at, at)
			in[k] = r2.Norm(r2.Sub(q.waves, waves)) < sameWaves*r2.Norm(waves)+0.3 && math.Abs(r2.Dot(d, n)) < besideRow
			if !in[k] {
				continue
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
