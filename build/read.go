package build

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// ErrOutside is the error of a name that leads out of the build's folder, or to
// something that is no file.
var ErrOutside = errors.New("not a file of the build's folder")

// ReadFile reads a file of the folder, up to so many bytes. A name that leads out of
// it, by dots or by a link, is [ErrOutside].
func (f *Folder) ReadFile(name string, most int64) ([]byte, error) {
	file, err := f.root.Open(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("read %s: %w: %w", name, ErrOutside, err)
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return nil, fmt.Errorf("read %s: %w", name, ErrOutside)
	}
	data, err := io.ReadAll(io.LimitReader(file, most))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return data, nil
}

// ResultFile is a file of out/.
type ResultFile struct {
	Name  string // in out/, with slashes
	Bytes int64
}

// Results lists what out/ holds of ours, by name, and whether it is marked stale.
func (f *Folder) Results() (files []ResultFile, stale bool, err error) {
	text, err := f.readText(path.Join(OutDir, ContentsFile))
	if err != nil || text == nil {
		return nil, false, err
	}
	list, ok := strings.CutPrefix(string(text), contentsHead)
	if !ok {
		return nil, false, nil
	}
	for name := range strings.Lines(list) {
		name = strings.TrimSpace(name)
		if info, err := f.root.Stat(path.Join(OutDir, name)); name != "" && err == nil && info.Mode().IsRegular() {
			files = append(files, ResultFile{name, info.Size()})
		}
	}
	slices.SortFunc(files, func(a, b ResultFile) int { return strings.Compare(a.Name, b.Name) })
	return files, f.has(path.Join(OutDir, StaleFile)), nil
}

// PutFile puts a whole file into a folder of the build, in the place of one that is
// there: written beside it, forced to disk, renamed.
func (f *Folder) PutFile(name string, data []byte) error {
	if !fs.ValidPath(name) || path.Dir(name) == "." {
		return fmt.Errorf("write %s: %w", name, ErrOutside)
	}
	return f.locked("storing "+path.Base(name), func() error {
		if err := f.root.MkdirAll(path.Dir(name), 0o777); err != nil {
			return fmt.Errorf("write %s: %w", name, err)
		}
		if info, err := f.root.Lstat(name); err == nil && !info.Mode().IsRegular() {
			return fmt.Errorf("write %s: %w", name, ErrOutside)
		}
		return f.replace(name, data)
	})
}
