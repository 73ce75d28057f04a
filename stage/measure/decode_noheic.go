//go:build !heic

package measure

import "image"

// The plain build reads no high efficiency photographs; see decode_heic.go.

func heicConfig([]byte) (image.Config, error) { return image.Config{}, errHEIC }

func heicImage([]byte) (image.Image, error) { return nil, errHEIC }
