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
	if err := moveStart(beside, dir, name, isThere); err != nil {
		return fmt.Errorf("new build: %w", errors.Join(err, os.RemoveAll(beside)))
	}
	return nil
}

func moveStart(beside, dir, name string, isThere bool) error {
	inside := filepath.Join(beside, "build")
	if err := os.Mkdir(inside, 0o777); err != nil {
		return err
	}
	if err := writeStart(inside, name); err != nil {
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
