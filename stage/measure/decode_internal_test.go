package measure

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"slices"
	"testing"

	"golang.org/x/image/tiff"
	"pgregory.net/rapid"
)

// A picture means the same pixels in every kind of file and depth.
func TestDecodeKinds(t *testing.T) {
	const w, h = 220, 210
	flat := image.NewNRGBA(image.Rect(0, 0, w, h))
	deep := image.NewNRGBA64(flat.Rect)
	grey := image.NewGray(flat.Rect)
	few := image.NewPaletted(flat.Rect, color.Palette{color.Black, color.White, color.Gray{100}})
	for y := range h {
		for x := range w {
			c := color.NRGBA{uint8(x), uint8(y), uint8(x * y), 255}
			flat.SetNRGBA(x, y, c)
			deep.SetNRGBA64(x, y, color.NRGBA64{uint16(c.R)<<8 | 7, uint16(c.G)<<8 | 200, uint16(c.B) << 8, 0xffff})
			grey.SetGray(x, y, color.Gray{uint8(x + y)})
			few.SetColorIndex(x, y, uint8((x+y)%3))
		}
	}
	files := map[string][]byte{}
	for name, img := range map[string]image.Image{"8": flat, "16": deep, "grey": grey, "palette": few} {
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		files["png "+name] = bytes.Clone(b.Bytes())
		for kind, o := range map[string]*tiff.Options{"raw": nil, "deflate": {Compression: tiff.Deflate, Predictor: true}} {
			b.Reset()
			if err := tiff.Encode(&b, img, o); err != nil {
				t.Fatal(err)
			}
			files["tiff "+kind+" "+name] = bytes.Clone(b.Bytes())
		}
	}
	for name, data := range files {
		p, err := decode(t.Context(), data)
		if err != nil || p.w != w || p.h != h {
			t.Errorf("%s: %v, error %v", name, p, err)
			continue
		}
		want := []uint8{120, 45, 24} // x·y = 5400 is 24 past a multiple of 256
		switch name[len(name)-4:] {
		case "grey":
			want = []uint8{165, 165, 165}
		case "ette":
			want = []uint8{0, 0, 0}
		}
		if got := p.rgb[3*(45*w+120) : 3*(45*w+120)+3]; !slices.Equal(got, want) {
			t.Errorf("%s: pixel %v, want %v", name, got, want)
		}
	}
}

// Sensors of 50 megapixels write up to 8192 × 6144; a header alone asks for nothing.
func TestDecodeMostPixels(t *testing.T) {
	header := func(w, h uint32) []byte {
		b := []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR")
		b = binary.BigEndian.AppendUint32(b, w)
		b = binary.BigEndian.AppendUint32(b, h)
		b = append(b, 8, 2, 0, 0, 0) // depth, RGB, methods (PNG 1.2, 11.2.2)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[12:]))
	}
	for _, tt := range []struct {
		w, h uint32
		want error
	}{
		{8192, 6144, errUnreadable}, {8160, 6120, errUnreadable}, {8700, 6144, errTooLarge}, {30000, 30000, errTooLarge}, {100, 4000, errTooSmall},
	} {
		if _, err := decode(t.Context(), header(tt.w, tt.h)); !errors.Is(err, tt.want) {
			t.Errorf("a header of %d × %d alone: %v, want %v", tt.w, tt.h, err, tt.want)
		}
	}
}

// A file with its pixels unpacked is looked at where it lies as a decoder reads it;
// damaged ones are refused, never read past their end.
func TestLaidOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		r := image.Rect(0, 0, w, h)
		img := rapid.SampledFrom([]draw.Image{
			image.NewNRGBA(r), image.NewRGBA(r), image.NewNRGBA64(r), image.NewRGBA64(r), image.NewGray(r), image.NewGray16(r),
		}).Draw(t, "kind")
		for y := range h {
			for x := range w {
				img.Set(x, y, color.NRGBA64{uint16(x * 1601), uint16(y * 1499), uint16(x * y * 37), uint16(0xffff - 300*x)})
			}
		}
		var b bytes.Buffer
		if err := tiff.Encode(&b, img, nil); err != nil {
			t.Fatal(err)
		}
		want, err := tiff.Decode(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		l, ok := readLaidOut(b.Bytes())
		if !ok {
			t.Fatalf("a plain file of %T is not taken", img)
		}
		for y := range h {
			for x := range w {
				r, g, bl, _ := want.At(x, y).RGBA()
				c := l.RGBA64At(x, y)
				if c.R>>8 != uint16(r>>8) || c.G>>8 != uint16(g>>8) || c.B>>8 != uint16(bl>>8) {
					t.Fatalf("%T at %d, %d: %v, the decoder %v", img, x, y, c, want.At(x, y))
				}
			}
		}
		torn := bytes.Clone(b.Bytes())
		torn[rapid.IntRange(0, len(torn)-1).Draw(t, "where")] ^= byte(rapid.IntRange(1, 255).Draw(t, "bits"))
		torn = torn[:rapid.IntRange(0, len(torn)).Draw(t, "length")]
		if l, ok := readLaidOut(torn); ok {
			l.RGBA64At(l.w-1, l.h-1)
			l.RGBA64At(0, 0)
		}
	})
}
