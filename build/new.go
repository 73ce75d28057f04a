package build

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// The build that New starts with: an invented spindle, its outline typed.
//
//go:embed start/build.yaml start/shop.yaml start/outlines/spindle.yaml
var start embed.FS

// startName stands in the template where the build's name goes.
const startName = "NAME OF THE BUILD"

// ErrNotEmpty is the error of New for a folder that holds something.
var ErrNotEmpty = errors.New("the folder is not empty")

// New starts a build: a folder with a build.yaml, a shop.yaml and an outline of
// an invented spindle, with comments that say what to change. It loads as it
// is. Dir may be there already, if it is empty. The folder is written beside
// its place and moved there whole.
func New(dir, name string) error {
	return begin(dir, func(inside string) error { return writeStart(inside, name) })
}

// Copy starts a build from the files of another: all of them, but for what is derived.
// Like [New] it takes an empty folder or a new one, and moves the copy there whole.
func Copy(dir string, from fs.FS) error {
	return begin(dir, func(inside string) error {
		root, err := os.OpenRoot(inside)
		if err != nil {
			return err
		}
		defer root.Close()
		f := &Folder{root: root}
		return fs.WalkDir(from, ".", func(file string, entry fs.DirEntry, err error) error {
			switch {
			case err != nil || file == ".":
				return err
			case file == OutDir || file == HistoryDir:
				return fs.SkipDir
			case entry.IsDir():
				return root.Mkdir(file, 0o777)
			}
			text, err := fs.ReadFile(from, file)
			if err != nil {
				return err
			}
			return errors.Join(f.writeNew(file, text, 0o666), f.syncDir(path.Dir(file)))
		})
	})
}

// begin makes a build's folder by a function that fills it.
func begin(dir string, fill func(inside string) error) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return fmt.Errorf("new build: %w", err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("new build: %w", err)
	}
	if len(entries) > 0 {
		return fmt.Errorf("new build in %s: %w", dir, ErrNotEmpty)
	}
	isThere := err == nil
	if err := os.MkdirAll(filepath.Dir(dir), 0o777); err != nil {
		return fmt.Errorf("new build: %w", err)
	}
	beside, err := os.MkdirTemp(filepath.Dir(dir), ".start-*.new")
	if err != nil {
		return fmt.Errorf("new build: %w", err)
	}
	if err := moveStart(beside, dir, fill, isThere); err != nil {
		return fmt.Errorf("new build: %w", errors.Join(err, os.RemoveAll(beside)))
	}
	return nil
}

func moveStart(beside, dir string, fill func(string) error, isThere bool) error {
	inside := filepath.Join(beside, "build")
	if err := os.Mkdir(inside, 0o777); err != nil {
		return err
	}
	if err := fill(inside); err != nil {
		return err
	}
	if isThere { // not every system renames onto an empty folder
		if err := os.Remove(dir); err != nil {
			return err
		}
	}
	if err := os.Rename(inside, dir); err != nil {
		return err
	}
	return os.Remove(beside)
}

func writeStart(dir, name string) error {
	if strings.TrimSpace(name) == "" {
		name = "New build"
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	f := &Folder{root: root}
	return fs.WalkDir(start, "start", func(file string, entry fs.DirEntry, err error) error {
		to := strings.TrimPrefix(strings.TrimPrefix(file, "start"), "/")
		if err != nil || to == "" {
			return err
		}
		if entry.IsDir() {
			return root.Mkdir(to, 0o777)
		}
		text, err := start.ReadFile(file)
		if err != nil {
			return err
		}
		text = []byte(strings.ReplaceAll(string(text), startName, Quote(name)))
		if err := f.writeNew(to, text, 0o666); err != nil {
			return err
		}
		return f.syncDir(path.Dir(to))
	})
}
