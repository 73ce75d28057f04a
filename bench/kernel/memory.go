package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"runtime/debug"
	"strconv"

	"scalewright/bench/machine"
)

// weigh runs each case once in a process of its own and prints the most memory it
// held over what it began with, for each triangle put in.
func weigh(ctx context.Context, o options) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	fmt.Printf("%s, n = %d, GOGC=100; peak of resident memory over the start\n", machine.String(), o.n)
	for _, c := range o.chosen() {
		cmd := exec.CommandContext(ctx, self, "-child", c.name, "-n", strconv.Itoa(o.n))
		cmd.Env = append(os.Environ(), "GOGC=100", "GOMEMLIMIT=off")
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
		fmt.Printf("%-10s %s", c.name, out)
	}
	return nil
}

// child runs the case and prints a line.
func child(ctx context.Context, o options) error {
	for _, c := range cases {
		if c.name != o.child {
			continue
		}
		in, run, err := c.ready(ctx, o.n)
		if err != nil {
			return err
		}
		triangles := 0
		for _, m := range in {
			triangles += len(m.Triangles)
		}
		runtime.GC()
		debug.FreeOSMemory()
		// The kernel's own peak begins anew (proc(5), clear_refs).
		if err := os.WriteFile("/proc/self/clear_refs", []byte("5"), 0); err != nil {
			fmt.Println("not known on this system:", err)
			return nil
		}
		began, err := kibOf("VmRSS")
		if err != nil {
			return err
		}
		r, err := run(ctx, in)
		if err != nil {
			return err
		}
		peak, err := kibOf("VmHWM")
		if err != nil {
			return err
		}
		runtime.KeepAlive(in)
		runtime.KeepAlive(r)
		fmt.Printf("%9d triangles in, %7.1f MiB at the start, %7.1f MiB more at the peak, %5.0f bytes a triangle\n",
			triangles, began/1024, (peak-began)/1024, (peak-began)*1024/float64(triangles))
		return nil
	}
	return errors.New("no case " + o.child)
}

// kibOf reads a figure of this process's memory.
func kibOf(name string) (float64, error) {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0, err
	}
	found := regexp.MustCompile(`(?m)^` + name + `:\s+(\d+) kB`).FindSubmatch(text)
	if found == nil {
		return 0, fmt.Errorf("/proc/self/status has no %s", name)
	}
	return strconv.ParseFloat(string(found[1]), 64)
}
