package photograph

import (
	"fmt"
	"image"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// sheet is what is printed on a thing, and what has scratched it, as coverage 0 to
// 255 on an even raster; rows go up with y.
type sheet struct {
	x0, y0, res float64 // of the first point, and the raster's step, mm
	w, h        int
	ink, worn   []uint8
	faces       map[float64]font.Face
}

func newSheet(x0, y0, x1, y1, res float64) *sheet {
	s := &sheet{x0: x0, y0: y0, res: res, w: int((x1-x0)/res) + 2, h: int((y1-y0)/res) + 2, faces: map[float64]font.Face{}}
	s.ink, s.worn = make([]uint8, s.w*s.h), make([]uint8, s.w*s.h)
	return s
}

// at reads ink and scratches between the raster's points; none outside.
func (s *sheet) at(x, y float64) (ink, worn float64) {
	x, y = (x-s.x0)/s.res, (y-s.y0)/s.res
	i, j := int(x), int(y)
	if x < 0 || y < 0 || i >= s.w-1 || j >= s.h-1 {
		return 0, 0
	}
	k := j*s.w + i
	a, b, c, d := s.ink[k], s.ink[k+1], s.ink[k+s.w], s.ink[k+s.w+1]
	e, f, g, h := s.worn[k], s.worn[k+1], s.worn[k+s.w], s.worn[k+s.w+1]
	if a|b|c|d|e|f|g|h == 0 {
		return 0, 0
	}
	x, y = x-float64(i), y-float64(j)
	mix := func(a, b, c, d uint8) float64 {
		return ((float64(a)*(1-x)+float64(b)*x)*(1-y) + (float64(c)*(1-x)+float64(d)*x)*y) / 255
	}
	return mix(a, b, c, d), mix(e, f, g, h)
}

// line draws a line of some width and strength on ink or worn.
func (s *sheet) line(on []uint8, ax, ay, bx, by, width, strength float64) {
	ax, ay, bx, by = (ax-s.x0)/s.res, (ay-s.y0)/s.res, (bx-s.x0)/s.res, (by-s.y0)/s.res
	dx, dy := bx-ax, by-ay
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	half := width / s.res / 2
	reach := half + 1
	steep := math.Abs(dy) > math.Abs(dx)
	lo, hi := min(ax, bx), max(ax, bx)
	if steep {
		lo, hi = min(ay, by), max(ay, by)
	}
	for m := int(math.Floor(lo - reach)); m <= int(math.Ceil(hi+reach)); m++ {
		mid, span := 0.0, 0.0
		if steep {
			mid, span = ax+(float64(m)-ay)*dx/dy, reach*n/math.Abs(dy)
		} else {
			mid, span = ay+(float64(m)-ax)*dy/dx, reach*n/math.Abs(dx)
		}
		for k := int(math.Floor(mid - span)); k <= int(math.Ceil(mid+span)); k++ {
			i, j := m, k
			if steep {
				i, j = k, m
			}
			if i < 0 || j < 0 || i >= s.w || j >= s.h {
				continue
			}
			px, py := float64(i)-ax, float64(j)-ay
			across := math.Abs(px*dy-py*dx) / n
			along := (px*dx + py*dy) / n
			cover := min(1, 2*half, max(0, half+0.5-across)) * min(1, max(0, along+0.5)) * min(1, max(0, n+0.5-along))
			k := j*s.w + i
			on[k] = max(on[k], uint8(255*strength*cover))
		}
	}
}

var typeface = sync.OnceValue(func() *opentype.Font {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		panic(fmt.Sprintf("photograph: internal error: the type face: %v", err))
	}
	return f
})

// text prints words of a letter height (mm) with their middle at x, y; quarter
// turns go anticlockwise.
func (s *sheet) text(words string, x, y, height float64, quarters int, strength float64) {
	// The face's capitals are 0.72 of its size.
	size := height / 0.72 / s.res
	face := s.faces[size]
	if face == nil {
		var err error
		face, err = opentype.NewFace(typeface(), &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			panic(fmt.Sprintf("photograph: internal error: the type face: %v", err))
		}
		s.faces[size] = face
	}
	w, h := font.MeasureString(face, words).Ceil()+2, int(size*1.4)+2
	img := image.NewAlpha(image.Rect(0, 0, w, h))
	base := (float64(h) + 0.72*size) / 2
	(&font.Drawer{Dst: img, Src: image.Opaque, Face: face, Dot: fixed.P(1, int(base))}).DrawString(words)
	cx, cy := (x-s.x0)/s.res, (y-s.y0)/s.res
	for b := range h {
		for a := range w {
			v := img.Pix[b*img.Stride+a]
			if v == 0 {
				continue
			}
			u, t := a-w/2, h/2-b
			for range quarters {
				u, t = -t, u
			}
			i, j := int(cx)+u, int(cy)+t
			if i >= 0 && j >= 0 && i < s.w && j < s.h {
				k := j*s.w + i
				s.ink[k] = max(s.ink[k], uint8(float64(v)*strength))
			}
		}
	}
}
