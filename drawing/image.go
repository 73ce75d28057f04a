package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/draw"
	_ "image/jpeg" // to read a JPEG's size
	"image/png"
)

// Image is a photograph or other picture, laid in a box. The bytes are a PNG
// or JPEG file; they are not turned by any orientation written in them, and
// they are stretched to the box if its sides are in another proportion.
type Image struct {
	ID   string
	Box  Rect
	Data []byte
	Alt  string // said aloud
}

// Image lays a picture.
func (s *Scene) Image(m Image) { s.Add(m) }

func (m Image) moved(d Point, prefix string) Item {
	m.ID = prefixed(prefix, m.ID)
	m.Box.X += d.X
	m.Box.Y += d.Y
	return m
}

// maxPixels refuses pictures whose header promises more than a photograph has,
// before anything is allocated for them.
const maxPixels = 200_000_000

// kind is "png" or "jpeg", from the bytes themselves.
func (m Image) kind() (string, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(m.Data))
	if err != nil {
		return "", fmt.Errorf("read picture: %w", err)
	}
	if kind != "png" && kind != "jpeg" {
		return "", fmt.Errorf("read picture: %s is neither PNG nor JPEG", kind)
	}
	if c.Width <= 0 || c.Height <= 0 || c.Width > maxPixels/c.Height {
		return "", errors.New("read picture: impossible size")
	}
	return kind, nil
}

// plainPNG writes the picture anew as 8 bit without interlace, the only PNG
// that every reader of the PDF writer's output takes.
func plainPNG(data []byte) ([]byte, error) {
	src, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read picture: %w", err)
	}
	var dst draw.Image
	switch src.(type) {
	case *image.Gray, *image.Gray16:
		dst = image.NewGray(src.Bounds())
	default:
		dst = image.NewNRGBA(src.Bounds())
	}
	draw.Draw(dst, dst.Bounds(), src, src.Bounds().Min, draw.Src)
	var out bytes.Buffer
	if err := png.Encode(&out, dst); err != nil {
		return nil, fmt.Errorf("write picture: %w", err)
	}
	return out.Bytes(), nil
}
