// Package examples holds the demo, so that the program can hand out a copy of it.
package examples

import (
	"embed"
	"io/fs"
)

//go:embed foyer-rocket/build.yaml foyer-rocket/shop.yaml foyer-rocket/outlines foyer-rocket/photos
var files embed.FS

// Demo is the folder of the Foyer rocket, as a build's folder is.
func Demo() fs.FS {
	demo, err := fs.Sub(files, "foyer-rocket")
	if err != nil {
		panic("examples: internal error: " + err.Error()) // the name is a constant
	}
	return demo
}
