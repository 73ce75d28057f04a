package measure

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	_ "image/jpeg" // formats a camera or a phone writes
	_ "image/png"
	"math"
	"runtime"

	"github.com/bep/imagemeta"
	"golang.org/x/image/tiff"
	_ "golang.org/x/image/webp"

	"scalewright/craft/cores"
)

// maxPixels bounds what is decoded: 50 megapixels are 150 MB here, and sensors sold as
// having so many write up to 8192 × 6144 pixels.
const maxPixels = 50_500_000

// bigPixels is from how many pixels on what a decoder or a step leaves behind is given
// back at once: a progressive JPEG of 50 megapixels leaves 600 MB of coefficients, and the
// collector, which waits until twice of what it last saw in use is reached, would let
// them lie beside all that follows.
const bigPixels = 16_000_000

// giveBack collects what a step over a big picture has left behind.
func giveBack(w, h int) {
	if w*h > bigPixels {
		runtime.GC()
	}
}

// minSide is the least side of a photograph worth measuring: below it the
// object would be a few pixels wide.
const minSide = 200

// What a photograph cannot be read for.
var (
	errUnreadable = errors.New("not a photograph this program reads")
	errHEIC       = errors.New("a HEIC photograph")
	errTooLarge   = errors.New("more pixels than are decoded")
	errTooSmall   = errors.New("too few pixels")
)

// decode reads a JPEG, PNG, TIFF or WebP photograph, where it was built for it a HEIC
// one too, and turns it upright.
func decode(ctx context.Context, data []byte) (*picture, error) {
	conf, format, err := configOf(data)
	switch {
	case err != nil && isHEIC(data):
		return nil, errHEIC
	case err != nil || conf.Width < 1 || conf.Height < 1:
		return nil, errUnreadable
	case conf.Width > maxPixels/conf.Height:
		return nil, errTooLarge
	case conf.Width < minSide || conf.Height < minSide:
		return nil, errTooSmall
	}
	img, err := imageOf(data)
	switch {
	case err != nil && isHEIC(data):
		return nil, errHEIC
	case err != nil:
		return nil, errUnreadable
	}
	giveBack(conf.Width, conf.Height) // what the decoder held
	tags := readTags(data, format)
	if format == formatHEIC {
		tags.orientation = 1 // it comes upright
	}
	p, err := upright(ctx, img, tags.orientation)
	if err != nil {
		return nil, err
	}
	img = nil
	giveBack(p.w, p.h)
	p.camera, p.orientation = tags.maker+" "+tags.model, tags.orientation
	if tags.uncropped(p.w, p.h) {
		p.f35 = tags.f35
	}
	return p, nil
}

// isTIFF knows a TIFF file by its byte order and its 42 (TIFF 6.0, section 2). It is
// read from where its directory says, which package image, whose readers go forward
// only, makes good by a second copy of the whole file.
func isTIFF(data []byte) bool {
	return bytes.HasPrefix(data, []byte("II*\x00")) || bytes.HasPrefix(data, []byte("MM\x00*"))
}

func configOf(data []byte) (image.Config, string, error) {
	if isHEIC(data) {
		conf, err := heicConfig(data)
		return conf, formatHEIC, err
	}
	if isTIFF(data) {
		conf, err := tiff.DecodeConfig(bytes.NewReader(data))
		return conf, "tiff", err
	}
	return image.DecodeConfig(bytes.NewReader(data))
}

func imageOf(data []byte) (image.Image, error) {
	if isHEIC(data) {
		return heicImage(data)
	}
	if l, ok := readLaidOut(data); ok {
		return l, nil
	}
	if isTIFF(data) {
		return tiff.Decode(bytes.NewReader(data))
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	return img, err
}

// formatHEIC is the name of the high efficiency format beside those of package image.
const formatHEIC = "heic"

// isHEIC knows the high efficiency formats by their brand (ISO/IEC 23008-12,
// annex B; ISO/IEC 14496-12, 4.3), which the standard decoders do not read.
func isHEIC(data []byte) bool {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	switch string(data[8:12]) {
	case "heic", "heix", "hevc", "hevx", "heim", "heis", "mif1", "msf1", "avif":
		return true
	}
	return false
}

// tags is what the photograph's EXIF says (CIPA DC-008, Exif 2.32).
type tags struct {
	orientation   int
	f35           float64
	width, height int // pixels as they came from the camera
	maker, model  string
}

// uncropped reports whether the picture still has the camera's own shape, so
// that its focal length holds; a picture made smaller as a whole still does.
func (t tags) uncropped(w, h int) bool {
	if t.width == 0 || t.height == 0 {
		return true
	}
	was := float64(max(t.width, t.height)) / float64(min(t.width, t.height))
	is := float64(max(w, h)) / float64(min(w, h))
	return math.Abs(math.Log(was/is)) < 0.01
}

var tagFormats = map[string]imagemeta.ImageFormat{
	formatHEIC: imagemeta.HEIF,
	"jpeg":     imagemeta.JPEG, "png": imagemeta.PNG, "tiff": imagemeta.TIFF, "webp": imagemeta.WebP,
}

// readTags never fails: a photograph whose EXIF is damaged is one without.
func readTags(data []byte, format string) (out tags) {
	out.orientation = 1
	kind, ok := tagFormats[format]
	if !ok {
		return out
	}
	wanted := map[string]func(float64){
		"Orientation":             func(v float64) { out.orientation = int(v) },
		"FocalLengthIn35mmFormat": func(v float64) { out.f35 = v },
		"ExifImageWidth":          func(v float64) { out.width = int(v) },
		"ExifImageHeight":         func(v float64) { out.height = int(v) },
	}
	words := map[string]*string{"Make": &out.maker, "Model": &out.model}
	_, err := imagemeta.Decode(imagemeta.Options{
		R:           bytes.NewReader(data),
		ImageFormat: kind,
		Sources:     imagemeta.EXIF,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			return wanted[t.Tag] != nil || words[t.Tag] != nil
		},
		HandleTag: func(t imagemeta.TagInfo) error {
			if word := words[t.Tag]; word != nil {
				*word, _ = t.Value.(string)
			} else if v, ok := number(t.Value); ok && v >= 0 && v < 1e6 {
				wanted[t.Tag](v)
			}
			return nil
		},
		Warnf: func(string, ...any) {},
	})
	if err != nil || out.orientation < 1 || out.orientation > 8 {
		out.orientation = max(1, min(out.orientation, 8))
	}
	return out
}

func number(v any) (float64, bool) {
	switch v := v.(type) {
	case uint8:
		return float64(v), true
	case uint16:
		return float64(v), true
	case uint32:
		return float64(v), true
	case int32:
		return float64(v), true
	case int:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// source maps an upright pixel to the stored one, for a stored image of w × h
// (Exif 2.32, tag 274: what the stored row 0 and column 0 are of the scene).
func source[T int | float64](orientation int, w, h, x, y T) (sx, sy T) {
	switch orientation {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	case 8:
		return w - 1 - y, x
	}
	return x, y
}

func upright(ctx context.Context, img image.Image, orientation int) (*picture, error) {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	p := &picture{w: w, h: h}
	if orientation >= 5 {
		p.w, p.h = h, w
	}
	p.rgb = make([]uint8, 3*w*h)
	// Go's YCbCr is what JPEG gives and is worth a path of its own. All others that the
	// decoders give tell a colour without an interface value for each pixel, which is
	// hundreds of megabytes of them.
	ycc, isYCC := img.(*image.YCbCr)
	deep, isDeep := img.(image.RGBA64Image)
	err := cores.Rows(ctx, p.h, func(y int) {
		out := p.rgb[3*y*p.w:]
		for x := range p.w {
			sx, sy := source(orientation, w, h, x, y)
			sx, sy = sx+b.Min.X, sy+b.Min.Y
			var r, g, bl uint8
			switch {
			case isYCC:
				i, j := ycc.YOffset(sx, sy), ycc.COffset(sx, sy)
				r, g, bl = color.YCbCrToRGB(ycc.Y[i], ycc.Cb[j], ycc.Cr[j])
			case isDeep:
				c := deep.RGBA64At(sx, sy)
				r, g, bl = uint8(c.R>>8), uint8(c.G>>8), uint8(c.B>>8)
			default:
				r16, g16, b16, _ := img.At(sx, sy).RGBA()
				r, g, bl = uint8(r16>>8), uint8(g16>>8), uint8(b16>>8)
			}
			out[3*x], out[3*x+1], out[3*x+2] = r, g, bl
		}
	})
	if err != nil {
		return nil, err
	}
	return p, nil
}
