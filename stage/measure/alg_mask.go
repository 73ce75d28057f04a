package measure

import (
	"cmp"
	"math"
	"slices"

	"scalewright/craft/cores"
)

// Limits of what counts as bare mat, in natural logarithms of light over the
// mat's own. A shadow takes light and leaves nearly all the colour: under the
// sky alone a mat keeps a quarter to a third of its light (ln = -1.4 to -1.1).
// A pixel whose colour has moved by more than a factor of e between channels is
// not mat, whatever its light.
const (
	otherColour = 0.9
	muchLighter = 0.8
	muchDarker  = -1.5
)

// kind of a pixel. The kinds by light alone are kept apart, so that a dark
// object touching a bright ruler does not run together with it.
type kind uint8

const (
	bare kind = iota
	lighter
	darker
	coloured
)

func (m ground) classify(otherColour float64) []kind {
	out := make([]kind, len(m.region))
	for i, in := range m.region {
		if !in {
			continue
		}
		q := m.looks.ratio[i]
		switch light := lightOf(q); {
		case tintOf(q) > otherColour:
			out[i] = coloured
		case light > muchLighter:
			out[i] = lighter
		case light < muchDarker:
			out[i] = darker
		}
	}
	return out
}

// grid is a mask of w × h.
type grid struct {
	w, h int
	on   []bool
}

func (g grid) clone() grid { return grid{g.w, g.h, slices.Clone(g.on)} }

// grow sets what lies within n pixels of what is set; with value false it clears what
// lies within n of what is not. Lengths are those of the chamfer 3-4, which makes
// octagons (Borgefors, Computer Vision, Graphics and Image Processing 34 (1986)
// 344-371).
func (g grid) grow(n int, value bool) grid {
	const beyond = 2 // pixels: one that is not set, and one that stays as it is
	out := g.clone()
	x0, y0, x1, y1 := g.box(beyond + n)
	w, h := x1-x0+1, y1-y0+1
	if w <= 0 {
		return out
	}
	const straight, slanting = 3, 4
	far := make([]int32, w*h)
	for y := range h {
		for x, on := range g.on[(y0+y)*g.w+x0:][:w] {
			if on != value {
				far[y*w+x] = math.MaxInt32 / 2
			}
		}
	}
	for y := 1; y < h-1; y++ {
		for i := y*w + 1; i < (y+1)*w-1; i++ {
			far[i] = min(far[i], far[i-1]+straight, far[i-w]+straight, far[i-w-1]+slanting, far[i-w+1]+slanting)
		}
	}
	for y := h - 2; y > 0; y-- {
		for i := (y+1)*w - 2; i > y*w; i-- {
			far[i] = min(far[i], far[i+1]+straight, far[i+w]+straight, far[i+w+1]+slanting, far[i+w-1]+slanting)
		}
	}
	for y := range h {
		to := out.on[(y0+y)*g.w+x0:][:w]
		for x, d := range far[y*w : (y+1)*w] {
			if d <= straight*int32(n) {
				to[x] = value
			}
		}
	}
	return out
}

// box is that of all that is set, so much wider where the picture has room; its sides are
// not positive where nothing is.
func (g grid) box(wider int) (x0, y0, x1, y1 int) {
	x0, y0, x1, y1 = g.w, g.h, -1, -1
	for y := range g.h {
		line := g.on[y*g.w : (y+1)*g.w]
		from := slices.Index(line, true)
		if from < 0 {
			continue
		}
		to := g.w - 1
		for !line[to] {
			to--
		}
		x0, y0, x1, y1 = min(x0, from), min(y0, y), max(x1, to), y
	}
	if x1 < 0 {
		return 0, 0, -1, -1
	}
	return max(x0-wider, 0), max(y0-wider, 0), min(x1+wider, g.w-1), min(y1+wider, g.h-1)
}

// blob is a connected patch of a mask.
type blob struct {
	pixels  []int
	touches bool // reaches the edge of the region
}

// blobs lists the patches of a mask, four-connected, in reading order.
func (g grid) blobs(region []bool) (out []blob) {
	seen := make([]bool, len(g.on))
	var stack []int
	for start, on := range g.on {
		if !on || seen[start] {
			continue
		}
		var b blob
		seen[start] = true
		stack = append(stack[:0], start)
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			b.pixels = append(b.pixels, i)
			x, y := i%g.w, i/g.w
			if x < 2 || y < 2 || x >= g.w-2 || y >= g.h-2 {
				b.touches = true
				continue
			}
			for _, j := range [4]int{i - 1, i + 1, i - g.w, i + g.w} {
				if !region[j] {
					b.touches = true
				}
				if g.on[j] && !seen[j] {
					seen[j] = true
					stack = append(stack, j)
				}
			}
		}
		out = append(out, b)
	}
	return out
}

// only is the mask of one blob with its holes filled: what cannot be reached
// from outside the box round it.
func (g grid) only(b blob) grid {
	out := grid{g.w, g.h, make([]bool, len(g.on))}
	x0, y0, x1, y1 := g.w, g.h, 0, 0
	for _, i := range b.pixels {
		out.on[i] = true
		x, y := i%g.w, i/g.w
		x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
	}
	// One pixel of margin, where there is one, joins all that is outside.
	x0, y0, x1, y1 = max(x0-1, 0), max(y0-1, 0), min(x1+1, g.w-1), min(y1+1, g.h-1)
	outside := make([]bool, len(g.on))
	var stack []int
	visit := func(x, y int) {
		if i := y*g.w + x; x >= x0 && x <= x1 && y >= y0 && y <= y1 && !out.on[i] && !outside[i] {
			outside[i] = true
			stack = append(stack, i)
		}
	}
	for x := x0; x <= x1; x++ {
		visit(x, y0)
		visit(x, y1)
	}
	for y := y0; y <= y1; y++ {
		visit(x0, y)
		visit(x1, y)
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, y := i%g.w, i/g.w
		visit(x-1, y)
		visit(x+1, y)
		visit(x, y-1)
		visit(x, y+1)
	}
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			i := y*g.w + x
			out.on[i] = out.on[i] || !outside[i]
		}
	}
	return out
}

// filled is the mask with its holes filled: what cannot be reached from the
// picture's edge.
func (g grid) filled() grid {
	out := g.clone()
	free := grid{g.w, g.h, make([]bool, len(g.on))}
	for i, on := range g.on {
		free.on[i] = !on
	}
	all := make([]bool, len(g.on))
	for i := range all {
		all[i] = true
	}
	for _, f := range free.blobs(all) {
		if !f.touches {
			for _, i := range f.pixels {
				out.on[i] = true
			}
		}
	}
	return out
}

// shape is what tells an object from a ruler.
type shape struct {
	area          float64 // pixels
	long, short   float64 // sides of the box along the main axes
	fill          float64 // area over the box
	cx, cy, angle float64
}

func shapeOf(b blob, w int) (s shape) {
	n := float64(len(b.pixels))
	for _, i := range b.pixels {
		s.cx += float64(i % w)
		s.cy += float64(i / w)
	}
	s.cx, s.cy, s.area = s.cx/n, s.cy/n, n
	var xx, xy, yy float64
	for _, i := range b.pixels {
		dx, dy := float64(i%w)-s.cx, float64(i/w)-s.cy
		xx, xy, yy = xx+dx*dx, xy+dx*dy, yy+dy*dy
	}
	s.angle = math.Atan2(2*xy, xx-yy) / 2
	sin, cos := math.Sincos(s.angle)
	var lo, hi [2]float64
	for k, i := range b.pixels {
		dx, dy := float64(i%w)-s.cx, float64(i/w)-s.cy
		p := [2]float64{dx*cos + dy*sin, dy*cos - dx*sin}
		for c := range p {
			if k == 0 || p[c] < lo[c] {
				lo[c] = p[c]
			}
			if k == 0 || p[c] > hi[c] {
				hi[c] = p[c]
			}
		}
	}
	s.long, s.short = hi[0]-lo[0]+1, hi[1]-lo[1]+1
	s.fill = s.area / (s.long * s.short)
	return s
}

// ruler reports whether a patch has the shape of a workshop ruler: a rectangle,
// ragged by its ticks at most, five or more times as long as wide, 140 mm or
// longer and 15 to 45 mm wide (makers' 150 to 600 mm steel rules lie inside this).
func (s shape) ruler(pxPerMM float64) bool {
	wide, long := s.short/pxPerMM, s.long/pxPerMM
	return s.fill > 0.85 && s.long > 5*s.short && long > 140 && wide > 15 && wide < 45
}

// found is an object and its area in pixels.
type found struct {
	mask grid
	area int
}

// findObjects returns the masks of objects, and of rulers by their shape, the
// largest first: patches, inside
// the region and not a ruler, of pixels that are not bare mat. Printed lines and
// scratches, up to thin pixels wide, are opened away first. Of two that share
// pixels the larger is kept.
func findObjects(kinds []kind, region []bool, w, h int, thin int, pxPerMM float64) (objects, rulers []grid) {
	var of [2]apart
	cores.Each(len(of), func(k int) {
		of[k] = objectsOf([2]kind{lighter, darker}[k], kinds, region, grid{w: w, h: h}, thin, pxPerMM)
	})
	all := slices.Concat(of[0].objects, of[1].objects)
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.area, a.area) })
	for _, f := range all {
		if !slices.ContainsFunc(objects, f.mask.meets) {
			objects = append(objects, f.mask)
		}
	}
	return objects, slices.Concat(of[0].rulers, of[1].rulers)
}

// apart is what lies on the mat by one side of its light.
type apart struct {
	objects []found
	rulers  []grid
}

// objectsOf are those of a kind, lighter or darker than the mat, and of another colour.
func objectsOf(is kind, kinds []kind, region []bool, g grid, thin int, pxPerMM float64) (out apart) {
	g.on = make([]bool, len(kinds))
	for i, k := range kinds {
		g.on[i] = k == is
	}
	if is == darker {
		// A light streak along a dark body leaves a hole in it. Printed lines are
		// light, so no square of the grid can be taken for one.
		g = g.filled()
	}
	for i, k := range kinds {
		g.on[i] = g.on[i] || k == coloured
	}
	g = g.grow(thin, false).grow(thin, true)
	for _, b := range g.blobs(region) {
		s := shapeOf(b, g.w)
		if s.ruler(pxPerMM) {
			out.rulers = append(out.rulers, g.only(b))
		}
		if b.touches || s.area < leastObject*pxPerMM*pxPerMM || s.ruler(pxPerMM) {
			continue
		}
		whole := g.only(b)
		out.objects = append(out.objects, found{whole, whole.count()})
	}
	return out
}

func (g grid) count() (n int) {
	for _, on := range g.on {
		if on {
			n++
		}
	}
	return n
}

// meets reports whether two masks share a pixel.
func (g grid) meets(o grid) bool {
	for i, on := range g.on {
		if on && o.on[i] {
			return true
		}
	}
	return false
}

// leastObject is the least area of an object, mm²: a body 20 mm long and 5 across.
const leastObject = 100

// ownColour is the least difference of colour from the mat that the object
// itself shows: seven tenths of what nine tenths of its own pixels near its edge
// exceed. Above it lies the object but, in most pictures, not the printed lines,
// which are blends of ink and mat: taken as the limit, it keeps lines that end
// at the object from leaving stubs on it.
func (m ground) ownColour(object grid) float64 {
	core := object.grow(m.thin, false)
	deep := core.grow(2*m.thin, false)
	var tints []float64
	for i, on := range core.on {
		if on && !deep.on[i] {
			tints = append(tints, tintOf(m.looks.ratio[i]))
		}
	}
	if len(tints) == 0 {
		return 0
	}
	slices.Sort(tints)
	return 0.7 * tints[len(tints)/10]
}
