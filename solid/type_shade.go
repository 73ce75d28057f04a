package solid

import (
	"image"
	"image/color"
	"math"
)

// ShadeOptions say what part of a view becomes a raster, and how it is lit.
type ShadeOptions struct {
	// Width and Height of the raster, pixels.
	Width, Height int
	// Low and High are the corners of the rectangle of the paper that it covers, as
	// in [Projection.Bounds]. Pixels are square where the two agree.
	Low, High Point
	// Light points from the solids to the light, in coordinates of the paper: right,
	// up, to the eye. Zero: [UpperLeft].
	Light Vec
	// Flat gives every triangle one shade. Otherwise the shade is soft: it runs on
	// across edges that turn by less than the view's crease angle.
	Flat bool
	// Samples is the number of samples along a pixel's side; 0: 4, so 16 a pixel.
	Samples int
}

// UpperLeft is light over the left shoulder: the habit of technical drawing, in
// which shadows fall to the lower right. It stands 35° off the paper (the diagonal
// of a cube).
func UpperLeft() Vec { return Vec{-1, 1, 1} }

// Raster is a shaded picture without edges, colours or paper. Row 0 is on top.
type Raster struct {
	Width, Height int
	// Light is how much light each pixel's surface throws back, 0 to 255; of the
	// samples that met one, the mean.
	Light []uint8
	// Cover is how much of each pixel a solid covers, 0 to 255.
	Cover []uint8
}

// Image returns the raster in ink on nothing: full light is paper, none is ink,
// and where no solid is the picture is transparent. What is drawn over it are the
// visible lines of [Kernel.Project].
func (r Raster) Image(paper, ink color.Color) *image.NRGBA {
	light, dark := color.NRGBAModel.Convert(paper).(color.NRGBA), color.NRGBAModel.Convert(ink).(color.NRGBA)
	out := image.NewNRGBA(image.Rect(0, 0, r.Width, r.Height))
	mix := func(a, b uint8, share uint8) uint8 {
		return uint8((uint32(a)*uint32(share) + uint32(b)*uint32(255-share) + 127) / 255)
	}
	for i, l := range r.Light {
		p := out.Pix[4*i : 4*i+4]
		p[0], p[1], p[2] = mix(light.R, dark.R, l), mix(light.G, dark.G, l), mix(light.B, dark.B, l)
		p[3] = r.Cover[i]
	}
	return out
}

// maxRaster is the most pixels along a side: a page at 600 dots an inch.
const maxRaster = 1 << 14

// maxSamples is the most samples along a pixel's side.
const maxSamples = 16

func (o ShadeOptions) check() error {
	for _, n := range [...]int{o.Width, o.Height} {
		if n < 1 || n > maxRaster {
			return &ValueError{"side of the raster", float64(n), "1 to 16384 pixels"}
		}
	}
	for k := range 2 {
		if s := o.High[k] - o.Low[k]; !(s > 0) || math.IsInf(s, 1) {
			return &ValueError{"side of the rectangle to shade", s, "positive and finite"}
		}
	}
	if o.Samples < 0 || o.Samples > maxSamples {
		return &ValueError{"samples along a pixel", float64(o.Samples), "0 to 16"}
	}
	if !o.Light.finite() {
		return &ValueError{"length of the light's direction", o.Light.Length(), "finite"}
	}
	return nil
}
