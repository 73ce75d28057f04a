// Package machine says what every measured figure needs beside it: on what it was
// measured, and how the repeated runs are made one figure.
package machine

import (
	"bufio"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
)

// String names the processor, its cores and the version of Go.
func String() string {
	return fmt.Sprintf("%s, %d cores, %s", processor(), runtime.NumCPU(), runtime.Version())
}

func processor() string {
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

// Median is the middle figure; of an even number the higher of the two, of
// none 0.
func Median(figures []float64) float64 {
	x := slices.Sorted(slices.Values(figures))
	if len(x) == 0 {
		return 0
	}
	return x[len(x)/2]
}
