package measure

import (
	"math"
	"sync"
)

// picture is an upright photograph in the 8-bit values of its file. It is
// turned to linear light as it is read (see linear), since averages and edges
// are only true there.
type picture struct {
	w, h int
	rgb  []uint8 // w*h*3, rows from the top
	f35  float64 // 35 mm equivalent focal length of an uncropped photograph, or 0

	camera      string // maker and model, where the file says
	orientation int    // how the file's rows lie (EXIF)
}

// linear is the inverse of the sRGB transfer curve (IEC 61966-2-1:1999, 5.2).
var linear = sync.OnceValue(func() *[256]float32 {
	var t [256]float32
	for i := range t {
		v := float64(i) / 255
		if v <= 0.04045 {
			t[i] = float32(v / 12.92)
		} else {
			t[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
		}
	}
	return &t
})

// colour is linear light, 0 to 1 each: red, green, blue.
type colour [3]float64

func (c colour) minus(d colour) colour { return colour{c[0] - d[0], c[1] - d[1], c[2] - d[2]} }

func (c colour) dot(d colour) float64 { return c[0]*d[0] + c[1]*d[1] + c[2]*d[2] }

func (c colour) sum() float64 { return c[0] + c[1] + c[2] }

// at is the colour at a place between pixels, by bilinear interpolation; the
// picture's border is repeated outside.
func (p *picture) at(x, y float64) colour {
	x = min(max(x, 0), float64(p.w-1))
	y = min(max(y, 0), float64(p.h-1))
	x0, y0 := min(int(x), max(p.w-2, 0)), min(int(y), max(p.h-2, 0))
	fx, fy := x-float64(x0), y-float64(y0)
	x1, y1 := min(x0+1, p.w-1), min(y0+1, p.h-1)
	lut := linear()
	var out colour
	for _, q := range [4]struct {
		x, y int
		w    float64
	}{{x0, y0, (1 - fx) * (1 - fy)}, {x1, y0, fx * (1 - fy)}, {x0, y1, (1 - fx) * fy}, {x1, y1, fx * fy}} {
		i := 3 * (q.y*p.w + q.x)
		for c := range out {
			out[c] += q.w * float64(lut[p.rgb[i+c]])
		}
	}
	return out
}
