package build

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

const (
	// ReportFile stands in every folder of results.
	ReportFile = "report.json"
	// StaleFile stands in a folder of results that are not of the build as it
	// is now declared.
	StaleFile = "STALE"
	// ContentsFile lists what the program put into a folder of results.
	ContentsFile = "CONTENTS"
	// KeepDir holds what results are remembered by; a swap takes it along.
	KeepDir = ".keep"
)

// A program that cleans up holds the results for a moment, one that makes them
// for long.
const outWait = 200 * time.Millisecond

const staleText = "These results are of an earlier state of the build: as it is declared now, it cannot be made.\n" +
	"report.json says why. The next successful run replaces everything here.\n"

// OutWriter replaces a folder of results as a whole. Files are created beside
// it; Commit swaps. Until then, and whenever the program is killed, the old
// results stand or the new ones, never a mixture; see recover.go. Create may be
// called from several goroutines.
type OutWriter struct {
	out, new, old string
	own           bool // out/ of the build folder, which is ours whatever it holds
	release       func()
	mu            sync.Mutex
	dirs          map[string]bool // made in new, to be synced
	names         []string        // of files made in new, with slashes
	done          bool
}

// Out begins new results in dir, or in out/ of the build folder when dir is
// empty. Any other folder must be empty, new, or hold nothing but what an
// earlier run says it put there: a swap removes the rest; else, and where it
// lies inside the build or round it, it is [OutRefused]. Only one program writes
// results of a build at a time; the others get [Busy]. End it by Commit, Abort
// or MarkStale.
func (f *Folder) Out(dir string) (*OutWriter, error) {
	out, own, err := f.outPlace(dir)
	if err != nil {
		return nil, err
	}
	release, err := f.lock(outLockFile, "writing results", outWait)
	if err != nil {
		return nil, err
	}
	w := &OutWriter{out: out, new: out + ".new", old: out + ".old", own: own, release: release, dirs: map[string]bool{}}
	err = w.begin()
	if err != nil {
		release()
		return nil, err
	}
	return w, nil
}

func (w *OutWriter) begin() error {
	if err := w.refuseOthers(); err != nil {
		return err
	}
	if err := w.recover(); err != nil {
		return err
	}
	if err := os.MkdirAll(w.new, 0o777); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	w.dirs[w.new] = true
	return w.writeContents(w.new)
}

// recover mends a swap that was cut short; the lock says that nobody is at it.
func (w *OutWriter) recover() error {
	if exists(w.old) {
		if !exists(w.out) {
			// The old results were moved away, so the new ones were complete.
			next := w.new
			if !exists(next) {
				next = w.old
			}
			if err := os.Rename(next, w.out); err != nil {
				return fmt.Errorf("results: %w", err)
			}
		}
		if err := w.clearOld(); err != nil {
			return err
		}
	}
	if err := os.RemoveAll(w.new); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	return nil
}

// clearOld moves the memory of results over and removes the old ones.
func (w *OutWriter) clearOld() error {
	from, to := filepath.Join(w.old, KeepDir), filepath.Join(w.out, KeepDir)
	if exists(from) && !exists(to) {
		if err := os.Rename(from, to); err != nil {
			return fmt.Errorf("results: %w", err)
		}
	}
	if err := os.RemoveAll(w.old); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	return nil
}

func exists(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

// recoverOut mends a swap at opening, unless somebody is at it right now.
func (f *Folder) recoverOut(out string) error {
	w := OutWriter{out: out, new: out + ".new", old: out + ".old"}
	if !exists(w.new) && !exists(w.old) {
		return nil
	}
	release, err := f.lock(outLockFile, "cleaning up results", 0)
	if _, busy := errors.AsType[*Busy](err); busy || errors.Is(err, fs.ErrPermission) {
		return nil
	}
	if err != nil {
		return err
	}
	defer release()
	return w.recover()
}

// Create begins a file of the results, named with slashes.
func (w *OutWriter) Create(name string) (io.WriteCloser, error) {
	local := filepath.FromSlash(name)
	if !filepath.IsLocal(local) || strings.HasPrefix(name, KeepDir) || name == ContentsFile {
		return nil, fmt.Errorf("results: %q is not a name inside the folder of results", name)
	}
	full := filepath.Join(w.new, local)
	if err := w.mkdir(filepath.Dir(full)); err != nil {
		return nil, err
	}
	file, err := os.Create(full)
	if err != nil {
		return nil, fmt.Errorf("results: %w", err)
	}
	w.mu.Lock()
	w.names = append(w.names, name)
	w.mu.Unlock()
	return outFile{file}, nil
}

// mkdir makes a folder in the new results and those above it.
func (w *OutWriter) mkdir(dir string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.done {
		panic("build: internal error: results are written after their end")
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	for ; dir != w.new; dir = filepath.Dir(dir) {
		w.dirs[dir] = true
	}
	return nil
}

// outFile is forced to disk as it is closed.
type outFile struct{ *os.File }

func (f outFile) Close() error {
	if err := errors.Join(f.Sync(), f.File.Close()); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	return nil
}

// Commit puts the new results in the place of the old ones. Every file must
// have been closed.
func (w *OutWriter) Commit() error {
	defer w.end()
	if err := w.writeContents(w.new); err != nil {
		return err
	}
	for dir := range w.dirs {
		if err := syncPath(dir); err != nil {
			return err
		}
	}
	if exists(w.out) {
		if err := os.Rename(w.out, w.old); err != nil {
			return fmt.Errorf("results: %w", err)
		}
	}
	if err := os.Rename(w.new, w.out); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	if err := syncPath(filepath.Dir(w.out)); err != nil {
		return err
	}
	return w.clearOld()
}

func syncPath(name string) error {
	dir, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("results: %w", err)
	}
	if err := errors.Join(syncNames(dir), dir.Close()); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	return nil
}

// Abort takes the new results back. After Commit or MarkStale it does nothing,
// so that it can be deferred.
func (w *OutWriter) Abort() error {
	if w.done {
		return nil
	}
	defer w.end()
	if err := os.RemoveAll(w.new); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	return nil
}

func (w *OutWriter) end() {
	w.done = true
	w.release()
}

// MarkStale ends without new results: the last good ones stay and are marked
// stale, and only report.json is replaced, to say why.
func (w *OutWriter) MarkStale(report []byte) error {
	defer w.end()
	if err := os.RemoveAll(w.new); err != nil {
		return fmt.Errorf("results: %w", err)
	}
	if !exists(w.out) {
		if err := os.MkdirAll(w.out, 0o777); err != nil {
			return fmt.Errorf("results: %w", err)
		}
	}
	if !exists(filepath.Join(w.out, ContentsFile)) {
		if err := w.writeContents(w.out); err != nil {
			return err
		}
	}
	root, err := os.OpenRoot(w.out)
	if err != nil {
		return fmt.Errorf("results: %w", err)
	}
	out := Folder{root: root}
	// The mark first: results with the report of others must not look good.
	if err := out.replace(StaleFile, []byte(staleText)); err != nil {
		return errors.Join(err, root.Close())
	}
	return errors.Join(out.replace(ReportFile, report), root.Close())
}
