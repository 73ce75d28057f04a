package measure

import (
	"encoding/binary"
	"image"
	"image/color"
)

// laidOut is a TIFF whose pixels lie unpacked in the file: they are looked at where
// they lie, since a decoder's copies of a strip of 50 megapixels are three times the
// file (TIFF 6.0, sections 3 to 6).
type laidOut struct {
	data    []byte
	order   binary.ByteOrder
	w, h    int
	strips  []int // where each begins
	rows    int   // of a strip
	samples int   // of a pixel: 1 grey, 3 or 4 colours
	deep    bool  // 16 bits a sample
	alpha   bool  // the fourth has not been multiplied into the others yet
}

// Tags and their values that matter here.
const (
	tiffWidth, tiffHeight, tiffBits, tiffPacked, tiffMeans = 256, 257, 258, 259, 262
	tiffStrips, tiffSamples, tiffRows, tiffLengths         = 273, 277, 278, 279
	tiffPlanar, tiffExtra                                  = 284, 338

	tiffUnpacked, tiffBlackIsZero, tiffRGB, tiffChunky, tiffUnassociated = 1, 1, 2, 1, 2
)

// readLaidOut reads the directory; ok is false for any file but a plain one, which a
// decoder reads.
func readLaidOut(data []byte) (out *laidOut, ok bool) {
	if !isTIFF(data) || len(data) < 8 {
		return nil, false
	}
	l := &laidOut{data: data, order: binary.LittleEndian}
	if data[0] == 'M' {
		l.order = binary.BigEndian
	}
	tags, ok := l.tags()
	if !ok {
		return nil, false
	}
	one := func(tag uint16, unless int) int {
		if v := tags[tag]; len(v) > 0 {
			return v[0]
		}
		return unless
	}
	l.w, l.h, l.samples = one(tiffWidth, 0), one(tiffHeight, 0), one(tiffSamples, 1)
	l.rows = min(one(tiffRows, l.h), l.h)
	l.deep = one(tiffBits, 1) == 16
	l.alpha = l.samples == 4 && one(tiffExtra, 0) == tiffUnassociated
	means := one(tiffMeans, 0)
	switch {
	case one(tiffPacked, 1) != tiffUnpacked || one(tiffPlanar, tiffChunky) != tiffChunky,
		l.samples == 1 && means != tiffBlackIsZero, l.samples > 1 && means != tiffRGB,
		l.samples != 1 && l.samples != 3 && l.samples != 4,
		l.w < 1 || l.h < 1 || l.rows < 1 || l.w > maxPixels/l.h:
		return nil, false
	}
	for _, bits := range tags[tiffBits] {
		if bits != tags[tiffBits][0] || bits != 8 && bits != 16 {
			return nil, false
		}
	}
	l.strips = tags[tiffStrips]
	if len(tags[tiffBits]) != l.samples || len(l.strips) != (l.h+l.rows-1)/l.rows {
		return nil, false
	}
	for i, at := range l.strips {
		if size := min(l.rows, l.h-i*l.rows) * l.w * l.pixel(); at < 0 || at > len(data) || size > len(data)-at {
			return nil, false
		}
	}
	return l, true
}

// tags are the whole numbers of the first directory.
func (l *laidOut) tags() (map[uint16][]int, bool) {
	at := int64(l.order.Uint32(l.data[4:]))
	size := int64(len(l.data))
	if at+2 > size {
		return nil, false
	}
	n := int64(l.order.Uint16(l.data[at:]))
	if at+2+12*n > size {
		return nil, false
	}
	out := map[uint16][]int{}
	for k := range n {
		e := l.data[at+2+12*k:][:12]
		kind, count := l.order.Uint16(e[2:]), int64(l.order.Uint32(e[4:]))
		wide := map[uint16]int64{3: 2, 4: 4}[kind] // SHORT and LONG
		if wide == 0 {
			continue
		}
		v := e[8:12]
		if wide*count > 4 {
			from := int64(l.order.Uint32(v))
			if from+wide*count > size {
				return nil, false
			}
			v = l.data[from : from+wide*count]
		}
		values := make([]int, count)
		for i := range values {
			if wide == 2 {
				values[i] = int(l.order.Uint16(v[2*i:]))
			} else {
				values[i] = int(l.order.Uint32(v[4*i:]))
			}
		}
		out[l.order.Uint16(e)] = values
	}
	return out, true
}

// pixel is how many bytes one takes.
func (l *laidOut) pixel() int {
	if l.deep {
		return 2 * l.samples
	}
	return l.samples
}

func (l *laidOut) ColorModel() color.Model { return color.RGBA64Model }

func (l *laidOut) Bounds() image.Rectangle { return image.Rect(0, 0, l.w, l.h) }

func (l *laidOut) At(x, y int) color.Color { return l.RGBA64At(x, y) }

// RGBA64At is the colour of a pixel, alpha multiplied in.
func (l *laidOut) RGBA64At(x, y int) color.RGBA64 {
	p := l.data[l.strips[y/l.rows]+((y%l.rows)*l.w+x)*l.pixel():]
	at := func(k int) uint16 {
		if l.deep {
			return l.order.Uint16(p[2*k:])
		}
		return 0x101 * uint16(p[k])
	}
	if l.samples == 1 {
		g := at(0)
		return color.RGBA64{R: g, G: g, B: g, A: 0xffff}
	}
	c := color.RGBA64{R: at(0), G: at(1), B: at(2), A: 0xffff}
	if l.alpha {
		c.A = at(3)
		c.R, c.G, c.B = under(c.R, c.A), under(c.G, c.A), under(c.B, c.A)
	}
	return c
}

func under(v, alpha uint16) uint16 { return uint16(uint32(v) * uint32(alpha) / 0xffff) }
