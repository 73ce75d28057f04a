package build

import (
	"fmt"
	"os"
	"path/filepath"
)

// Files of a build folder.
const (
	BuildFile  = "build.yaml"
	ShopFile   = "shop.yaml"
	LogFile    = "log.jsonl"
	MadeDir    = "made"
	HistoryDir = "history"
	OutDir     = "out"
)

// Folder is the folder of one build. Its methods may be called from several
// goroutines and several programs at once. The zero value is of no use: see
// [Open].
type Folder struct {
	dir  string   // absolute
	root *os.Root // nothing outside it is read or written, save by Out

	// How far back undo goes; the constants, save in tests.
	mostEdits, mostHistory int
}

// Open opens the folder of a build and, where a program was killed in it,
// finishes or takes back what that one had begun. Close it when done.
func Open(dir string) (*Folder, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("open build folder: %w", err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("open build folder: %w", err)
	}
	f := &Folder{dir, root, mostEdits, mostHistory}
	if err := f.recover(); err != nil {
		root.Close()
		return nil, err
	}
	return f, nil
}

// Dir is the folder's path.
func (f *Folder) Dir() string { return f.dir }

// Close gives the folder back.
func (f *Folder) Close() error { return f.root.Close() }
