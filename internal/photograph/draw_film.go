package photograph

import (
	"image"
	"math"
	"math/rand/v2"
)

// canvas is linear light, row by row, and how much of each pixel the body covers.
type canvas struct {
	w, h int
	rgb  []float32
	mask []uint8
}

func (c *canvas) set(x, y int, v colour) {
	k := 3 * (y*c.w + x)
	c.rgb[k], c.rgb[k+1], c.rgb[k+2] = float32(v[0]), float32(v[1]), float32(v[2])
}

// blur is a separable Gaussian, in place; the border's pixels are repeated.
func (c *canvas) blur(sigma float64) {
	reach := int(math.Ceil(3.2 * sigma))
	kernel := make([]float32, reach+1)
	sum := 0.0
	for i := range kernel {
		// The integral over the pixel, so that narrow kernels keep their width.
		v := math.Erf((float64(i)+0.5)/(sigma*math.Sqrt2)) - math.Erf((float64(i)-0.5)/(sigma*math.Sqrt2))
		kernel[i] = float32(v)
		sum += v
		if i > 0 {
			sum += v
		}
	}
	for i := range kernel {
		kernel[i] /= float32(sum)
	}
	row := make([]float32, 3*(c.w+2*reach))
	for y := range c.h {
		line := c.rgb[3*y*c.w : 3*(y+1)*c.w]
		copy(row[3*reach:], line)
		for i := range reach {
			copy(row[3*i:3*i+3], line[:3])
			copy(row[3*(c.w+reach+i):], line[len(line)-3:])
		}
		for k := range line {
			mid := k + 3*reach
			v := kernel[0] * row[mid]
			for i := 1; i <= reach; i++ {
				v += kernel[i] * (row[mid-3*i] + row[mid+3*i])
			}
			line[k] = v
		}
	}
	// Down the columns with copies of the rows that are overwritten.
	n := 3 * c.w
	kept := make([][]float32, reach+1) // the rows y-reach to y as they were
	for i := range kept {
		kept[i] = append([]float32(nil), c.rgb[:n]...)
	}
	for y := range c.h {
		line := c.rgb[y*n : (y+1)*n]
		old := kept[0]
		copy(kept, kept[1:])
		kept[reach] = old
		copy(old, line)
		for k := range line {
			line[k] = kernel[0] * old[k]
		}
		for i := 1; i <= reach; i++ {
			below := min(y+i, c.h-1)
			under := c.rgb[below*n : (below+1)*n]
			if below == y {
				under = old
			}
			over, g := kept[reach-i], kernel[i]
			for k := range line {
				line[k] += g * (over[k] + under[k])
			}
		}
	}
}

// develop turns light into the picture's 8-bit values: vignetting, the sensor's
// noise, a soft shoulder under white and the curve of sRGB (IEC 61966-2-1).
func (c *canvas) develop(f *film, cx, cy float64) *image.RGBA {
	const fineness = 1 << 12
	var curve [2*fineness + 1]uint8
	for i := range curve {
		v := float64(i) / fineness
		if v > 0.8 {
			v = 0.8 + 0.2*(1-math.Exp(-(v-0.8)/0.2))
		}
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		curve[i] = uint8(math.Round(255 * min(1, v)))
	}
	out := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	rng := rand.NewPCG(f.seed, 3)
	deviates := bell()
	far := math.Hypot(float64(c.w), float64(c.h)) / 2
	for y := range c.h {
		dy := (float64(y) - cy) / far
		for x := range c.w {
			dx := (float64(x) - cx) / far
			rr := dx*dx + dy*dy
			dim := float32(f.exposure * (1 - f.vignette*rr*(1.3-0.3*rr)))
			bits := rng.Uint64()
			k := 3 * (y*c.w + x)
			for ch := range 3 {
				v := c.rgb[k+ch] * dim * float32(f.balance[ch])
				v += deviates[bits&0xfff] * float32(math.Sqrt(f.shot*float64(max(v, 0))+f.read*f.read))
				bits >>= 12
				out.Pix[4*(y*c.w+x)+ch] = curve[min(2*fineness, max(0, int(v*fineness+0.5)))]
			}
			out.Pix[4*(y*c.w+x)+3] = 255
		}
	}
	return out
}
