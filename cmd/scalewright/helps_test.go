package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"testing"
)

// Whatever fails on the disk comes with what to do, and status 3.
func TestDiskFailuresSayWhatToDo(t *testing.T) {
	for _, c := range []struct {
		err  error
		says string
	}{
		{&fs.PathError{Op: "write", Path: "out/book.pdf", Err: syscall.ENOSPC}, "make room"},
		{fmt.Errorf("make: %w", &fs.PathError{Op: "mkdir", Path: "out", Err: syscall.EACCES}), "who may read and write"},
		{&fs.PathError{Op: "sync", Path: "out", Err: syscall.EIO}, "run it again"},
	} {
		var talk bytes.Buffer
		f := &face{talk: &talk}
		if status := f.status(c.err); status != exitFailed || !strings.Contains(talk.String(), c.says) || !strings.Contains(talk.String(), "do: ") {
			t.Errorf("%v: status %d, %q", c.err, status, talk.String())
		}
	}
}
