// Command demo measures the main job: scalewright make on the demo, cold (nothing
// remembered) and warm (everything remembered) in turn, median of five, with the
// goals beside the figures.
package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

const (
	runs        = 5
	goalSeconds = 10.0
	goalMiB     = 1024.0
)

type figure struct{ seconds, mib float64 }

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
	var cold, warm []figure
	for range runs {
		if err := os.RemoveAll(filepath.Join(dir, "out")); err != nil {
			return err
		}
		for _, into := range []*[]figure{&cold, &warm} {
			f, err := measure(binary, dir)
			if err != nil {
				return err
			}
			*into = append(*into, f)
		}
	}
	fmt.Printf("%s, %d cores, %s, median of %d\n", machine(), runtime.NumCPU(), runtime.Version(), runs)
	fmt.Printf("%-34s %9s %9s\n", "scalewright make foyer-rocket", "seconds", "MiB")
	for _, row := range []struct {
		name    string
		figures []figure
	}{{"nothing remembered", cold}, {"everything remembered", warm}} {
		fmt.Printf("%-34s %9.2f %9.0f\n", row.name,
			median(row.figures, func(f figure) float64 { return f.seconds }),
			median(row.figures, func(f figure) float64 { return f.mib }))
	}
	fmt.Printf("%-34s %9.0f %9.0f\n", "goal", goalSeconds, goalMiB)
	return nil
}

func measure(binary, dir string) (figure, error) {
	cmd := exec.Command(binary, "make", dir)
	began := time.Now()
	out, err := cmd.CombinedOutput()
	if err != nil {
		return figure{}, fmt.Errorf("make: %w\n%s", err, out)
	}
	return figure{time.Since(began).Seconds(), peak(cmd.ProcessState)}, nil
}

func median(figures []figure, of func(figure) float64) float64 {
	var x []float64
	for _, f := range figures {
		x = append(x, of(f))
	}
	slices.Sort(x)
	return x[len(x)/2]
}

// machine names the processor.
func machine() string {
	file, err := os.Open("/proc/cpuinfo")
	if err != nil {
		return runtime.GOARCH
	}
	defer file.Close()
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if name, ok := strings.CutPrefix(lines.Text(), "model name"); ok {
			return strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(name), ":"))
		}
	}
	return runtime.GOARCH
}
