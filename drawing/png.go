package drawing

import (
	"bufio"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
)

// PNGOptions say how a Scene is written as PNG. The zero value is black on white
// at 96 pixels to the inch.
type PNGOptions struct {
	Palette Palette
	PerMM   float64 // pixels a mm; 0 is 96 to the inch
}

// mostPixels bounds a picture before anything is allocated for it: 400 MB of
// colours would be too much for any preview.
const mostPixels = 100_000_000

// PNG writes the scene as a picture on the sheet's colour, for previews and
// documents: links and ids are lost, letters are drawn from the embedded faces.
// Coverage is worked out in float64 without the help of any graphics card, so that
// the same scene gives the same bytes.
func PNG(w io.Writer, s *Scene, o PNGOptions) error {
	img, err := Raster(s, o)
	if err != nil {
		return err
	}
	b := bufio.NewWriter(w)
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(b, img); err != nil {
		return fmt.Errorf("write PNG: %w", err)
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("write PNG: %w", err)
	}
	return nil
}

// Raster is the picture that [PNG] writes.
func Raster(s *Scene, o PNGOptions) (*image.RGBA, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if o.PerMM == 0 {
		o.PerMM = 1 / Pixel
	}
	wide, high := s.Width*o.PerMM, s.Height*o.PerMM
	if !(o.PerMM > 0) || !(wide*high <= mostPixels) || !(wide <= mostPixels) || !(high <= mostPixels) {
		return nil, errors.New("drawing: impossible size of a picture")
	}
	if o.Palette == (Palette{}) {
		o.Palette = Print
	}
	img := image.NewRGBA(image.Rect(0, 0, max(1, int(wide+0.5)), max(1, int(high+0.5))))
	g := &rasterWriter{img: img, palette: o.Palette, k: o.PerMM}
	paper := g.rgba(Sheet)
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = paper.R, paper.G, paper.B, 255
	}
	g.clip = img.Bounds()
	var clips []image.Rectangle // outside each group open
	for _, it := range s.Items {
		switch v := it.(type) {
		case Group:
			clips = append(clips, g.clip)
			if v.Clip != nil {
				g.clip = g.clip.Intersect(g.pixels(*v.Clip))
			}
		case GroupEnd:
			g.clip, clips = clips[len(clips)-1], clips[:len(clips)-1]
		case Drawn:
			g.drawn(v)
		case Text:
			g.text(v)
		case Image:
			if err := g.image(v); err != nil {
				return nil, err
			}
		}
	}
	return img, nil
}

// rasterWriter draws on the picture; places are taken to pixels by k.
type rasterWriter struct {
	img     *image.RGBA
	palette Palette
	k       float64
	fill    filler
	clip    image.Rectangle // what groups with a Clip leave, to the nearest pixel
}

// pixels is a box to the nearest pixel.
func (g *rasterWriter) pixels(b Rect) image.Rectangle {
	px := func(mm float64) int { return int(math.Round(mm * g.k)) }
	return image.Rect(px(b.X), px(b.Y), px(b.X+b.W), px(b.Y+b.H))
}

func (g *rasterWriter) rgba(c Colour) color.RGBA {
	hex, _ := g.palette.Hex(c)
	v, _ := parseHex(hex)
	return color.RGBA{uint8(v[0]), uint8(v[1]), uint8(v[2]), 255}
}

func (g *rasterWriter) drawn(v Drawn) {
	opacity := v.Style.Opacity
	if opacity == 0 {
		opacity = 1
	}
	lines := v.Path.flat(g.k)
	if v.Style.Fill != None {
		g.fill.reset()
		for _, l := range lines {
			g.fill.polygon(l.points)
		}
		g.paint(v.Style.EvenOdd, g.rgba(v.Style.Fill), opacity)
	}
	if st := v.Style.Stroke; st.Colour != None && st.Width > 0 {
		g.fill.reset()
		for _, l := range lines {
			for _, part := range dashed(l, st.Dash, g.k) {
				g.fill.stroke(part, st.Width*g.k)
			}
		}
		g.paint(false, g.rgba(st.Colour), opacity)
	}
}

// paint lays the colour where the filler says there is something.
func (g *rasterWriter) paint(evenOdd bool, c color.RGBA, opacity float64) {
	b := g.img.Bounds()
	g.fill.rows(b.Dx(), b.Dy(), evenOdd, func(y, from int, cover []float64) {
		if y < g.clip.Min.Y || y >= g.clip.Max.Y {
			return
		}
		row := g.img.Pix[y*g.img.Stride:]
		for i, a := range cover {
			if a <= 0 || from+i < g.clip.Min.X || from+i >= g.clip.Max.X {
				continue
			}
			a = min(a, 1) * opacity
			p := row[4*(from+i) : 4*(from+i)+4]
			p[0], p[1], p[2] = mixed(p[0], c.R, a), mixed(p[1], c.G, a), mixed(p[2], c.B, a)
		}
	})
}

func mixed(under, over uint8, a float64) uint8 {
	return uint8(float64(float64(under)*(1-a)) + float64(float64(over)*a) + 0.5)
}
