package firmware_test

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/craft/firmware"
)

// The simulator counts cycles: what is proven is the order and the length of pulses
// at exactly 16 MHz. Volts, the supply's rise and the oscillator's error are none
// of it.

// edge is a pin's change: the cycle, the pin, and 0 low, 1 high, Z floating or U
// pulled up.
type edge struct {
	Cycle int64
	Pin   string
	State string
}

// seconds of an edge at 16 clockMHz.
func (e edge) seconds() float64 { return float64(e.Cycle) / clockMHz / 1e6 }

// clockMHz is the controller's clock.
const clockMHz = 16.0

// compile makes controller.elf and controller.hex by the program's own Makefile and
// returns their folder. Without the compiler the test is skipped, but for where the
// environment says that it must be there.
func compile(t *testing.T, source string) string {
	t.Helper()
	need(t, "avr-gcc", "make")
	dir := t.TempDir()
	write(t, dir, "controller.c", source)
	write(t, dir, "Makefile", firmware.Makefile)
	if out, err := exec.Command("make", "-s", "-C", dir, "controller.hex").CombinedOutput(); err != nil {
		t.Fatalf("the program does not compile: %v\n%s", err, out)
	}
	return dir
}

// size is what a compiled program takes of flash and of memory, bytes, the stack
// not counted.
func size(t *testing.T, dir string) (flash, memory int) {
	t.Helper()
	need(t, "avr-size")
	out, err := exec.Command("avr-size", filepath.Join(dir, "controller.elf")).Output()
	if err != nil {
		t.Fatal(err)
	}
	var text, data, bss int
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if _, err := fmt.Sscan(lines[len(lines)-1], &text, &data, &bss); err != nil {
		t.Fatalf("%q: %v", out, err)
	}
	return text + data, data + bss
}

// simulate runs a compiled program for so many microseconds; presses are lines of
// "microseconds pin 0|R", a switch to ground closed or open.
func simulate(t *testing.T, dir, presses string, microseconds int) []edge {
	t.Helper()
	need(t, "gcc")
	harness := filepath.Join(dir, "harness")
	if out, err := exec.Command("gcc", "-O1", "-o", harness, "testdata/harness.c", "-lsimavr").CombinedOutput(); err != nil {
		missing(t, "the harness needs libsimavr: "+string(out))
	}
	run := exec.Command(harness, filepath.Join(dir, "controller.hex"), fmt.Sprint(microseconds))
	run.Stdin = strings.NewReader(presses)
	out, err := run.Output()
	if err != nil {
		t.Fatalf("run: %v", err)
	}
	var all []edge
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		var e edge
		if _, err := fmt.Sscan(lines.Text(), &e.Cycle, &e.Pin, &e.State); err != nil {
			t.Fatalf("%q: %v", lines.Text(), err)
		}
		all = append(all, e)
	}
	return all
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func need(t *testing.T, tools ...string) {
	t.Helper()
	for _, tool := range tools {
		if _, err := exec.LookPath(tool); err != nil {
			missing(t, tool+" is not here")
		}
	}
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("SCALEWRIGHT_AVR") == "must" {
		t.Fatal(what)
	}
	t.Skip(what + "; install gcc-avr, avr-libc and libsimavr-dev")
}
