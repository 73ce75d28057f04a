//go:build unix

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// However early or late the system asks the program to end, it ends with status 3
// and leaves the last results as they were, or it was done and left new ones.
func TestAskedToEnd(t *testing.T) {
	stopped := 0
	for _, after := range []time.Duration{0, 50 * time.Millisecond, 400 * time.Millisecond, 1500 * time.Millisecond} {
		dir := filepath.Join(t.TempDir(), "rocket")
		if err := os.CopyFS(dir, os.DirFS("../../examples/foyer-rocket")); err != nil {
			t.Fatal(err)
		}
		if err := os.RemoveAll(filepath.Join(dir, "out")); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(filepath.Join(dir, "out"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "out", "report.json"), []byte("the last one\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		ctx, stop := stoppable()
		ask := func() {
			if err := syscall.Kill(os.Getpid(), syscall.SIGTERM); err != nil {
				t.Error(err)
			}
		}
		var timer *time.Timer
		if after == 0 {
			ask()
			<-ctx.Done()
		} else {
			timer = time.AfterFunc(after, ask)
		}
		var said bytes.Buffer
		status := run(ctx, []string{"make", dir}, &said, &said)
		if timer != nil && timer.Stop() {
			ask() // it was faster: the signal must still be caught by somebody
			<-ctx.Done()
		}
		stop()
		report, err := os.ReadFile(filepath.Join(dir, "out", "report.json"))
		if err != nil {
			t.Fatal(err)
		}
		old := string(report) == "the last one\n"
		switch {
		case status == exitFailed && old && strings.Contains(said.String(), "stopped"):
			stopped++
		case status == exitDone && !old:
		default:
			t.Errorf("after %v: exit status %d, the old report stands: %v\n%s", after, status, old, said.String())
		}
		left, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range left {
			if !slices.Contains([]string{"build.yaml", "shop.yaml", "outlines", "photos", "out", "history"}, e.Name()) {
				t.Errorf("after %v: %s is left behind", after, e.Name())
			}
		}
	}
	if stopped == 0 {
		t.Error("it was never stopped")
	}
}
