package drawing

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
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

// pdfPicture is a picture as the PDF writer takes it.
type pdfPicture struct {
	data  []byte
	kind  string
	pixel int     // columns
	wider float64 // how many times as wide as the picture, by clear columns at its right
}

// picture prepares a picture: a JPEG as it is; a PNG anew, 8 bit without interlace,
// the only kind that every reader of the PDF takes. The writer orders pictures by
// their columns alone, and those of equal width anyhow; so that the same book gives
// the same bytes, one as wide as another gets clear columns at its right.
func (g *pdfWriter) picture(name string, data []byte, kind string) (pdfPicture, error) {
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return pdfPicture{}, fmt.Errorf("read picture: %w", err)
	}
	p := pdfPicture{data: data, kind: kind, pixel: c.Width, wider: 1}
	if g.jpegs[p.pixel] == name {
		return p, nil
	}
	taken := map[int]bool{}
	for columns := range g.jpegs {
		taken[columns] = true
	}
	for _, other := range g.pictures {
		taken[other.pixel] = true
	}
	for taken[p.pixel] {
		p.pixel++
	}
	p.kind, p.wider = "png", float64(p.pixel)/float64(c.Width)
	p.data, err = plainPNG(data, p.pixel)
	return p, err
}

// jpegsOf names the first JPEG of each number of columns: it stays as it is.
func jpegsOf(pages []Page) map[int]string {
	out := map[int]string{}
	for _, p := range pages {
		for _, it := range p.Scene.Items {
			v, ok := it.(Image)
			if !ok {
				continue
			}
			c, kind, err := image.DecodeConfig(bytes.NewReader(v.Data))
			if err == nil && kind == "jpeg" && out[c.Width] == "" {
				out[c.Width] = v.name()
			}
		}
	}
	return out
}

// name of a picture is by its bytes: one used twice is stored once.
func (m Image) name() string {
	sum := sha256.Sum256(m.Data)
	return hex.EncodeToString(sum[:])
}

// plainPNG writes a picture as 8 bit without interlace, so many columns wide.
func plainPNG(data []byte, columns int) ([]byte, error) {
	src, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read picture: %w", err)
	}
	from := src.Bounds()
	to := image.Rect(0, 0, columns, from.Dy())
	var dst draw.Image = image.NewNRGBA(to)
	if columns == from.Dx() {
		switch src.(type) {
		case *image.Gray, *image.Gray16:
			dst = image.NewGray(to)
		}
	}
	draw.Draw(dst, image.Rect(0, 0, from.Dx(), from.Dy()), src, from.Min, draw.Src)
	var out bytes.Buffer
	if err := png.Encode(&out, dst); err != nil {
		return nil, fmt.Errorf("write picture: %w", err)
	}
	return out.Bytes(), nil
}
