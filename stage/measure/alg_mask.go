package measure

import (
	"math"
	"slices"
)

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

// only is the mask of one blob with its holes filled.
func (g grid) only(b blob) grid {
	out := grid{g.w, g.h, make([]bool, len(g.on))}
	for _, i := range b.pixels {
		out.on[i] = true
	}
	return out.filled()
}

// filled is the mask with its holes filled: what cannot be reached from outside the box
// round it.
func (g grid) filled() grid {
	// One pixel of margin, where there is one, joins all that is outside.
	x0, y0, x1, y1 := g.box(1)
	w, h := x1-x0+1, y1-y0+1
	if w <= 0 {
		return g.clone()
	}
	outside := make([]bool, w*h)
	stack := make([]int, 0, w*h)
	visit := func(x, y int) {
		if x < 0 || y < 0 || x >= w || y >= h {
			return
		}
		if i := y*w + x; !outside[i] && !g.on[(y0+y)*g.w+x0+x] {
			outside[i] = true
			stack = append(stack, i)
		}
	}
	for x := range w {
		visit(x, 0)
		visit(x, h-1)
	}
	for y := range h {
		visit(0, y)
		visit(w-1, y)
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, y := i%w, i/w
		visit(x-1, y)
		visit(x+1, y)
		visit(x, y-1)
		visit(x, y+1)
	}
	out := g.clone()
	for y := range h {
		to := out.on[(y0+y)*g.w+x0:][:w]
		for x, apart := range outside[y*w : (y+1)*w] {
			to[x] = !apart
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

func (g grid) count() (n int) {
	for _, on := range g.on {
		if on {
			n++
		}
	}
	return n
}

// add sets what another mask has set.
func (g grid) add(o grid) {
	for i, on := range o.on {
		g.on[i] = g.on[i] || on
	}
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
