package build

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// OutRefused is the error of results that may not be written into a folder,
// since writing them would remove what is not ours. Nothing was changed.
type OutRefused struct {
	Dir string
	Why string
	Do  string
}

func (e *OutRefused) Error() string { return e.Dir + " " + e.Why }

// outPlace is where results go, and whether that is the build's own out/.
func (f *Folder) outPlace(dir string) (out string, own bool, err error) {
	if dir == "" {
		dir = filepath.Join(f.dir, OutDir)
	}
	out, err = filepath.Abs(dir)
	if err != nil {
		return "", false, fmt.Errorf("results: %w", err)
	}
	home, err := os.Stat(f.dir)
	if err != nil {
		return "", false, fmt.Errorf("results: %w", err)
	}
	if parent, err := os.Stat(filepath.Dir(out)); err == nil && os.SameFile(parent, home) && filepath.Base(out) == OutDir {
		return out, true, nil
	}
	if anyAbove(out, home) {
		return "", false, &OutRefused{dir, "lies in the build's own folder", "name a folder outside it, or leave --out away"}
	}
	if target, err := os.Stat(out); err == nil {
		here, err := filepath.Abs(f.dir)
		if err != nil {
			return "", false, fmt.Errorf("results: %w", err)
		}
		if real, err := filepath.EvalSymlinks(here); err == nil {
			here = real
		}
		if anyAbove(here, target) {
			return "", false, &OutRefused{dir, "holds the build's own folder", "name an empty folder or a new one"}
		}
		if !target.IsDir() {
			return "", false, &OutRefused{dir, "is a file", "name an empty folder or a new one"}
		}
	}
	return out, false, nil
}

// anyAbove reports whether a path or a folder above it is the given one, by
// whatever name or link.
func anyAbove(path string, one fs.FileInfo) bool {
	for {
		if info, err := os.Stat(path); err == nil && os.SameFile(info, one) {
			return true
		}
		above := filepath.Dir(path)
		if above == path {
			return false
		}
		path = above
	}
}

// refuseOthers keeps a swap from removing what is not ours: the folder itself
// and the two that stand beside it during a swap.
func (w *OutWriter) refuseOthers() error {
	if w.own {
		return nil
	}
	for _, dir := range []string{w.out, w.new, w.old} {
		// Beside the results only the program's own leftovers stand, listed or not.
		if dir != w.out && readContents(dir) != nil {
			continue
		}
		other, err := foreign(dir)
		if err != nil {
			return err
		}
		if other != "" {
			return &OutRefused{dir, "holds " + other + ", which the program did not put there", "move it away, or name another folder"}
		}
	}
	return nil
}

// foreign is the first thing in a folder that its list of contents does not
// name; "" where there is none, or no folder.
func foreign(dir string) (string, error) {
	listed := readContents(dir)
	first := ""
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		switch {
		case listed != nil && name == KeepDir && d.IsDir():
			return fs.SkipDir
		case listed != nil && (name == ContentsFile || name == StaleFile || name == ReportFile || slices.Contains(listed, name)):
			return nil
		case d.IsDir() && holdsListed(listed, name):
			return nil
		}
		first = name
		return fs.SkipAll
	})
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", fmt.Errorf("results: %w", err)
	}
	return first, nil
}

func holdsListed(listed []string, dir string) bool {
	return slices.ContainsFunc(listed, func(name string) bool { return strings.HasPrefix(name, dir+"/") })
}

const contentsHead = "What the program put into this folder. The next run replaces all of it.\n"

// readContents is the list of contents of a folder of results; nil where it is
// none of ours.
func readContents(dir string) []string {
	text, err := os.ReadFile(filepath.Join(dir, ContentsFile))
	if err != nil {
		return nil
	}
	list, ok := strings.CutPrefix(string(text), contentsHead)
	if !ok {
		return nil
	}
	return strings.Split(strings.TrimSuffix(list, "\n"), "\n")
}

// writeContents lists what was made so far, a name a line.
func (w *OutWriter) writeContents(dir string) error {
	w.mu.Lock()
	names := slices.Sorted(slices.Values(w.names))
	w.mu.Unlock()
	text := contentsHead + strings.Join(names, "\n") + "\n"
	file, err := os.Create(filepath.Join(dir, ContentsFile))
	if err != nil {
		return fmt.Errorf("results: %w", err)
	}
	_, err = file.WriteString(text)
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	return nil
}
