package keep

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

type entry struct {
	name string
	size int64
	used time.Time
}

// scan lists the entries and removes temporary files that were left behind.
// What others delete meanwhile is not missed.
func (d *Dir) scan() ([]entry, error) {
	var found []entry
	err := filepath.WalkDir(d.path, func(name string, item fs.DirEntry, err error) error {
		if err != nil || item.IsDir() {
			return unlessGone(err)
		}
		info, err := item.Info()
		switch {
		case err != nil:
			return unlessGone(err)
		case strings.HasPrefix(item.Name(), tempPrefix):
			if d.now().Sub(info.ModTime()) > tempAge {
				_ = os.Remove(name)
			}
		case strings.HasSuffix(item.Name(), suffix):
			found = append(found, entry{name, info.Size(), info.ModTime()})
		}
		return nil
	})
	return found, err
}

func unlessGone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// evict removes entries, the one not asked for the longest first, until the
// rest is within the bound. The caller holds the lock.
func (d *Dir) evict(entries []entry) {
	slices.SortFunc(entries, func(a, b entry) int {
		return cmp.Or(a.used.Compare(b.used), cmp.Compare(a.name, b.name))
	})
	d.held = 0
	for _, e := range entries {
		d.held += e.size
	}
	for _, e := range entries {
		if d.held <= d.most {
			return
		}
		if err := os.Remove(e.name); unlessGone(err) == nil {
			d.held -= e.size
		}
	}
}
