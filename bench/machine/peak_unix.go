//go:build unix

package machine

import (
	"os"
	"runtime"
	"syscall"
)

// Peak is the most memory a finished process held, MiB. Linux counts in KiB,
// darwin in bytes (getrusage of each).
func Peak(state *os.ProcessState) float64 {
	usage, ok := state.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" {
		return float64(usage.Maxrss) / (1 << 20)
	}
	return float64(usage.Maxrss) / 1024
}
