//go:build heic

package measure

import (
	"bytes"
	"image"

	"github.com/gen2brain/heic"
)

// A build with the tag heic reads high efficiency photographs. The decoder is MIT and
// carries libheif and libde265, both LGPL, as a WebAssembly module: who passes on a
// program built so passes those on too, and must offer their source. The plain build
// has nothing of them.

func heicConfig(data []byte) (image.Config, error) {
	return heic.DecodeConfig(bytes.NewReader(data))
}

// heicImage is the picture, upright: the format's own turns (ISO/IEC 23008-12, 6.5.10)
// are the decoder's to follow, and EXIF's orientation only repeats them.
func heicImage(data []byte) (image.Image, error) {
	return heic.Decode(bytes.NewReader(data))
}
