package build

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
)

// replace puts a whole text in the place of a file: written beside it, forced
// to disk, then renamed, so that a reader or a power cut meets the old text or
// the new one. The temporary name is fixed, since only the holder of the lock
// writes; what a killed program left there is overwritten.
func (f *Folder) replace(name string, data []byte) error {
	mode := fs.FileMode(0o666)
	if info, err := f.root.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	beside := temporary(name)
	if err := f.writeNew(beside, data, mode); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := f.root.Rename(beside, name); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return f.syncDir(path.Dir(name))
}

func temporary(name string) string { return path.Join(path.Dir(name), "."+path.Base(name)+".new") }

// writeNew writes a file and forces it to disk.
func (f *Folder) writeNew(name string, data []byte, mode fs.FileMode) error {
	file, err := f.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	return errors.Join(err, file.Sync(), file.Close())
}

// syncDir forces the names in a folder to disk.
func (f *Folder) syncDir(name string) error {
	dir, err := f.root.Open(name)
	if err != nil {
		return fmt.Errorf("sync %s: %w", name, err)
	}
	if err := errors.Join(syncNames(dir), dir.Close()); err != nil {
		return fmt.Errorf("sync %s: %w", name, err)
	}
	return nil
}

// has reports whether a name exists.
func (f *Folder) has(name string) bool {
	_, err := f.root.Lstat(name)
	return err == nil
}

// names in a folder, sorted; none when it is not there.
func (f *Folder) names(dir string) ([]string, error) {
	entries, err := fs.ReadDir(f.root.FS(), dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", dir, err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out, nil
}
