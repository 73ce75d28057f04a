package build

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// What a killed program can leave, and what becomes of it. Each thing below is
// looked for by [Open], and again under the lock before every write.
//
//	left behind                          what happens
//	.NAME.new                            removed: a text that was never put in place
//	history/pending.json                 the edit was decided: it is carried out
//	made/.LABEL.new                      removed: nothing says the piece was released
//	made/LABEL without its log line      the release was decided: the line is written
//	half a last line of the log          left out, with a note, and cut off by the next event
//	out.new beside out                   removed: never complete, or never acknowledged
//	out.old and out.new, out gone        the swap was decided: out.new becomes out
//	out.old beside out                   the swap was done: .keep is moved over, out.old removed

// recover mends the folder where there is anything to mend. A folder that may
// not be written is left as it is: reading it does no harm.
func (f *Folder) recover() error {
	dirty, err := f.dirty()
	if err != nil {
		return err
	}
	if dirty {
		err = f.locked("cleaning up", func() error { return nil })
		if errors.Is(err, fs.ErrPermission) {
			return nil
		}
		if err != nil {
			return err
		}
	}
	return f.recoverOut(filepath.Join(f.dir, OutDir))
}

// dirty reports whether a killed program left something in the folder.
func (f *Folder) dirty() (bool, error) {
	if f.has(pendingFile) {
		return true, nil
	}
	for _, dir := range []string{".", HistoryDir, MadeDir} {
		names, err := f.names(dir)
		if err != nil {
			return false, err
		}
		if slices.ContainsFunc(names, isWorkFile) {
			return true, nil
		}
	}
	unlogged, err := f.unlogged()
	return len(unlogged) > 0, err
}

// mend does the work under the lock.
func (f *Folder) mend() error {
	if err := f.finish(); err != nil {
		return err
	}
	for _, dir := range []string{".", HistoryDir, MadeDir} {
		names, err := f.names(dir)
		if err != nil {
			return err
		}
		for _, name := range names {
			if !isWorkFile(name) {
				continue
			}
			if err := f.root.RemoveAll(path.Join(dir, name)); err != nil {
				return fmt.Errorf("clean up: %w", err)
			}
		}
	}
	pieces, err := f.unlogged()
	if err != nil {
		return err
	}
	for _, p := range pieces {
		if err := f.logRelease(p); err != nil {
			return err
		}
	}
	return nil
}

// unlogged are made pieces that the log does not know yet. A damaged log knows
// nothing for sure; Load says so, and nothing is added to it.
func (f *Folder) unlogged() ([]pieceRecord, error) {
	pieces, err := f.made()
	if err != nil || len(pieces) == 0 {
		return nil, err
	}
	_, events, _, found, err := f.fullLog()
	if err != nil {
		return nil, err
	}
	if found.Blocked() {
		return nil, nil
	}
	logged := map[string]bool{}
	for _, e := range events {
		logged[e.Label] = true
	}
	var out []pieceRecord
	for _, p := range pieces {
		if !logged[p.Label] {
			out = append(out, p)
		}
	}
	return out, nil
}

// isWorkFile reports whether a name is that of something not yet in place.
func isWorkFile(name string) bool {
	return strings.HasPrefix(name, ".") && strings.HasSuffix(name, ".new")
}
