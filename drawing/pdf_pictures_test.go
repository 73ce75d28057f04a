package drawing_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"scalewright/drawing"
)

// Pictures of equal size are written in the same order each time, PNG or JPEG.
func TestPDFPicturesRepeat(t *testing.T) {
	s := drawing.New(200, 100)
	for i := range 8 {
		img := image.NewNRGBA(image.Rect(0, 0, 20, 10))
		for k := range img.Pix {
			img.Pix[k] = uint8(k*i + i)
		}
		img.Set(0, 0, color.NRGBA{uint8(i), 0, 0, 255})
		var file bytes.Buffer
		var err error
		if i < 6 {
			err = png.Encode(&file, img)
		} else {
			err = jpeg.Encode(&file, img, nil)
		}
		if err != nil {
			t.Fatal(err)
		}
		s.Image(drawing.Image{Box: drawing.Rect{X: 24 * float64(i), W: 20, H: 10}, Data: file.Bytes()})
	}
	write := func() []byte {
		var b bytes.Buffer
		if err := drawing.PDF(&b, []drawing.Page{{Scene: s}}, drawing.Meta{}); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	first := write()
	for range 10 {
		if !bytes.Equal(write(), first) {
			t.Fatal("the same pictures give other bytes")
		}
	}
}
