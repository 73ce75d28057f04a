package main

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"scalewright/bench/machine"
)

//go:embed rival.py
var rivalScript string

// beside is what a straightforward pipeline of OpenCV says of one photograph.
type beside struct {
	Seconds float64 `json:"seconds"`
	CPU     float64 `json:"cpu_s"`
	Length  float64 `json:"length_mm"`
	Version string  `json:"version"`
}

// withOpenCV is a Python that has OpenCV; empty where none is installed.
func withOpenCV(ctx context.Context) string {
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if exec.CommandContext(ctx, name, "-c", "import cv2, numpy").Run() == nil {
			return name
		}
	}
	return ""
}

// rival times OpenCV on the photographs of a folder beside what was measured of them.
func rival(ctx context.Context, w io.Writer, dir string, scores []score) error {
	python := withOpenCV(ctx)
	if python == "" {
		fmt.Fprintln(w, "OpenCV beside it: no Python with cv2 is installed (Debian: python3-opencv), skipped")
		return nil
	}
	script := filepath.Join(os.TempDir(), fmt.Sprintf("rival-%d.py", os.Getpid()))
	if err := os.WriteFile(script, []byte(rivalScript), 0o600); err != nil {
		return err
	}
	defer os.Remove(script)
	for _, s := range scores {
		base := filepath.Join(dir, s.Name)
		var runs []beside
		var took, busy []float64
		for range 5 {
			var said strings.Builder
			c := exec.CommandContext(ctx, python, script, base+".jpg", base+".json", base+"_mask.png")
			c.Stdout, c.Stderr = &said, os.Stderr
			if err := c.Run(); err != nil {
				return fmt.Errorf("OpenCV on %s: %w", s.Name, err)
			}
			var b beside
			if err := json.Unmarshal([]byte(said.String()), &b); err != nil {
				return fmt.Errorf("OpenCV on %s: %w", s.Name, err)
			}
			runs, took, busy = append(runs, b), append(took, b.Seconds), append(busy, b.CPU)
		}
		raw, err := load(dir, s.Name, nil)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s: OpenCV %s, helped by marks and a box: %.2f s (%.2f CPU), length off by %.2f mm; here %.2f s, %.2f mm\n",
			s.Name, runs[0].Version, machine.Median(took), machine.Median(busy), math.Abs(runs[0].Length-raw.truth.Object.Length), s.Seconds, s.Length)
	}
	return nil
}
