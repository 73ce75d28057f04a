// Command demo measures the main job: scalewright make on the demo, cold (nothing
// remembered) and warm (everything remembered) in turn, median of five, with the
// goals beside the figures.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"scalewright/bench/machine"
)

const (
	runs        = 5
	goalSeconds = 20.0
	goalMiB     = 1024.0
)

type figures struct{ seconds, mib []float64 }

func main() {
	if err := bench(); err != nil {
		fmt.Fprintln(os.Stderr, "bench demo:", err)
		os.Exit(1)
	}
}

func bench() error {
	scratch, err := os.MkdirTemp("", "scalewright-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	binary := filepath.Join(scratch, "scalewright")
	if out, err := exec.Command("go", "build", "-o", binary, "./cmd/scalewright").CombinedOutput(); err != nil {
		return fmt.Errorf("build: %w\n%s", err, out)
	}
	dir := filepath.Join(scratch, "foyer-rocket")
	if err := os.CopyFS(dir, os.DirFS("examples/foyer-rocket")); err != nil {
		return err
	}
	var cold, warm figures
	for range runs {
		if err := os.RemoveAll(filepath.Join(dir, "out")); err != nil {
			return err
		}
		for _, into := range []*figures{&cold, &warm} {
			if err := into.measure(binary, dir); err != nil {
				return err
			}
		}
	}
	fmt.Printf("%s, median of %d\n", machine.String(), runs)
	fmt.Printf("%-34s %9s %9s\n", "scalewright make foyer-rocket", "seconds", "MiB")
	for _, row := range []struct {
		name    string
		figures figures
	}{{"nothing remembered", cold}, {"everything remembered", warm}} {
		fmt.Printf("%-34s %9.2f %9.0f\n", row.name,
			machine.Median(row.figures.seconds), machine.Median(row.figures.mib))
	}
	fmt.Printf("%-34s %9.0f %9.0f\n", "goal", goalSeconds, goalMiB)
	return nil
}

func (f *figures) measure(binary, dir string) error {
	cmd := exec.Command(binary, "make", dir)
	began := time.Now()
	out, err := cmd.CombinedOutput()
	if err != nil {
		return fmt.Errorf("make: %w\n%s", err, out)
	}
	f.seconds = append(f.seconds, time.Since(began).Seconds())
	f.mib = append(f.mib, machine.Peak(cmd.ProcessState))
	return nil
}
