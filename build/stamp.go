package build

import (
	"fmt"
	"strings"
)

// Stamp tells whether files of the folder may have changed: their sizes and times,
// of build.yaml, shop.yaml, the log, made/ and whatever else is named. Equal stamps
// mean that nobody wrote, as far as the file system tells.
func (f *Folder) Stamp(names ...string) string {
	var b strings.Builder
	for _, name := range append([]string{BuildFile, ShopFile, LogFile, MadeDir}, names...) {
		info, err := f.root.Stat(name)
		if err != nil {
			fmt.Fprintf(&b, "%s -\n", name)
			continue
		}
		fmt.Fprintf(&b, "%s %d %d\n", name, info.Size(), info.ModTime().UnixNano())
	}
	return b.String()
}

// HasFile reports whether a regular file of that name is in the folder.
func (f *Folder) HasFile(name string) bool {
	info, err := f.root.Stat(name)
	return err == nil && info.Mode().IsRegular()
}
