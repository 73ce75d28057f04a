package photograph

import (
	"bytes"
	"encoding/binary"
	"image"
)

// stored turns an upright picture into the one that a camera held so would have
// written (Exif 2.32, tag 274: 3 is half a turn, 6 and 8 are quarter turns).
func stored(img *image.RGBA, orientation int) *image.RGBA {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	var at func(x, y int) (int, int)
	sw, sh := w, h
	switch orientation {
	case 3:
		at = func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 6: // row 0 of the file is the right side of the scene
		sw, sh = h, w
		at = func(x, y int) (int, int) { return w - 1 - y, x }
	case 8: // row 0 of the file is the left side
		sw, sh = h, w
		at = func(x, y int) (int, int) { return y, h - 1 - x }
	default:
		return img
	}
	out := image.NewRGBA(image.Rect(0, 0, sw, sh))
	for y := range sh {
		for x := range sw {
			ux, uy := at(x, y)
			copy(out.Pix[4*(y*sw+x):4*(y*sw+x)+4], img.Pix[4*(uy*w+ux):])
		}
	}
	return out
}

// withEXIF puts an APP1 segment behind the file's first marker: orientation, and
// where the scene says so the focal length (Exif 2.32, 4.5 and 4.6).
func withEXIF(file []byte, s *Scene) []byte {
	le := binary.LittleEndian
	type entry struct {
		tag, kind uint16
		value     uint32
	}
	const short, long = 3, 4
	write := func(b []byte, entries []entry) []byte {
		b = le.AppendUint16(b, uint16(len(entries)))
		for _, e := range entries {
			b = le.AppendUint16(b, e.tag)
			b = le.AppendUint16(b, e.kind)
			b = le.AppendUint32(b, 1)
			b = le.AppendUint32(b, e.value) // a short lies in the first two bytes
		}
		return le.AppendUint32(b, 0)
	}
	w, h := s.w, s.h
	if s.orientation >= 5 {
		w, h = h, w
	}
	tiff := append([]byte("II*\x00"), 8, 0, 0, 0)
	const firstSize = 2 + 2*12 + 4
	tiff = write(tiff, []entry{{0x0112, short, uint32(s.orientation)}, {0x8769, long, 8 + firstSize}})
	exif := []entry{{0xa002, long, uint32(w)}, {0xa003, long, uint32(h)}}
	if s.f35 > 0 {
		exif = append(exif, entry{0xa405, short, uint32(s.f35)})
	}
	tiff = write(tiff, exif)
	var out bytes.Buffer
	out.Write(file[:2])
	out.Write([]byte{0xff, 0xe1})
	out.Write(binary.BigEndian.AppendUint16(nil, uint16(2+6+len(tiff))))
	out.WriteString("Exif\x00\x00")
	out.Write(tiff)
	out.Write(file[2:])
	return out.Bytes()
}
