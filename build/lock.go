package build

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// Busy is the error of a write that another program kept waiting too long.
type Busy struct {
	Holder string // who holds the lock, and for what
}

func (b *Busy) Error() string {
	return "the build folder is being written by " + b.Holder + "; try again when that is done"
}

const (
	lockFile    = HistoryDir + "/lock"
	outLockFile = HistoryDir + "/out.lock"
	// A write takes a few hundredths of a second; whoever waits this long waits
	// for a program that hangs.
	longestWait = 10 * time.Second
	pollEvery   = 5 * time.Millisecond
)

// locked runs a write while holding the lock, after finishing or taking back
// what a killed program left.
func (f *Folder) locked(what string, do func() error) error {
	release, err := f.lock(lockFile, what, longestWait)
	if err != nil {
		return err
	}
	defer release()
	if err := f.mend(); err != nil {
		return err
	}
	return do()
}

// lock takes a lock file, which the system frees when the program dies. The
// name of its holder stands in a file beside it, since Windows lets nobody read
// a locked one.
func (f *Folder) lock(name, what string, wait time.Duration) (release func(), err error) {
	if err := f.root.MkdirAll(HistoryDir, 0o777); err != nil {
		return nil, fmt.Errorf("make %s: %w", HistoryDir, err)
	}
	held := flock.New(filepath.Join(f.dir, filepath.FromSlash(name)))
	ctx, cancel := context.WithTimeout(context.Background(), wait)
	defer cancel()
	ok, err := held.TryLock()
	if err == nil && !ok {
		ok, err = held.TryLockContext(ctx, pollEvery)
	}
	if errors.Is(err, context.DeadlineExceeded) || err == nil && !ok {
		return nil, errors.Join(&Busy{f.holder(name)}, held.Close())
	}
	if err != nil {
		return nil, fmt.Errorf("lock %s: %w", name, err)
	}
	f.signHolder(name, what)
	return func() { _ = held.Close() }, nil // closing a lock file frees it, whatever it returns
}

func whoFile(lock string) string { return lock + "-holder" }

// signHolder is for messages only: a lock without a name works as well.
func (f *Folder) signHolder(lock, what string) {
	host, err := os.Hostname()
	if err != nil {
		host = "this computer"
	}
	_ = f.root.WriteFile(whoFile(lock), fmt.Appendf(nil, "process %d on %s (%s)", os.Getpid(), host, what), 0o666)
}

func (f *Folder) holder(lock string) string {
	text, err := f.root.ReadFile(whoFile(lock))
	if err != nil || len(text) == 0 || len(text) > 500 {
		return "another program"
	}
	return strings.ToValidUTF8(string(text), "?")
}
