package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/stock"
)

type doctorCmd struct{}

// Run starts a build in a scratch folder, makes it and throws it away: if that
// works, the program and the machine do.
func (c *doctorCmd) Run(ctx context.Context, f *face) error {
	fmt.Fprintf(f.out, "%s on %s/%s, %d cores\n", runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU())
	fmt.Fprintf(f.out, "%d findings, %d pipes, %d materials, %d glues known\n",
		len(finding.Entries()), len(stock.Pipes()), len(stock.Materials()), len(stock.Glues()))
	scratch, err := os.MkdirTemp("", "scalewright-doctor-")
	if err != nil {
		return fmt.Errorf("make a scratch folder: %w", err)
	}
	defer os.RemoveAll(scratch)
	dir := filepath.Join(scratch, "build")
	if err := build.New(dir, "doctor"); err != nil {
		return err
	}
	quiet := &face{out: io.Discard, talk: f.talk, system: f.system}
	if err := (&makeCmd{Dir: dir}).Run(ctx, quiet); err != nil {
		return fmt.Errorf("make a small build: %w", err)
	}
	fmt.Fprintln(f.out, "A small build was made from its files to its book. All is well.")
	return nil
}
