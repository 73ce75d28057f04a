// Package web holds the page: what the browser shows of a build. The page is built
// from src by npm (make page) into dist, which is embedded and never committed.
package web

import (
	"embed"
	"io/fs"
)

// dist holds at least its README, so that the program builds without npm.
//
//go:embed all:dist
var dist embed.FS

// Missing is what a program says that was built without its page.
const Missing = "this program was built without its page: make page"

// Page returns the built page's files with index.html at their root; false where the
// program was built without it.
func Page() (fs.FS, bool) { return page(dist) }

func page(built fs.FS) (fs.FS, bool) {
	root, err := fs.Sub(built, "dist")
	if err != nil {
		return nil, false
	}
	if _, err := fs.Stat(root, "index.html"); err != nil {
		return nil, false
	}
	return root, true
}
