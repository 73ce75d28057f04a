package book

import "image"

// isDark reports whether a module of a code is printed.
func isDark(code image.Image, x, y int) bool {
	r, _, _, _ := code.At(x, y).RGBA()
	return r < 0x8000
}
