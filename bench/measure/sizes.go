package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/image/tiff"

	"scalewright/bench/machine"
	"scalewright/internal/photograph"
	"scalewright/model"
	"scalewright/stage/measure"
)

// sizeSeed is the drawn photograph that is measured in several sizes, and sizePitch
// its mat's grid, told since a small picture does not show a ruler's millimetres.
const (
	sizeSeed  = 37
	sizePitch = 10
)

// sizeGoals are seconds on two cores by megapixels, MiB for all.
var sizeGoals = []struct {
	wide    int
	seconds float64 // 0: none was set
	kinds   []string
}{
	{3056, 5, []string{"jpeg"}},
	{4000, 8, []string{"jpeg", "png", "tiff", "webp"}},
	{8160, 0, []string{"jpeg", "png", "tiff", "webp"}},
}

const mostMiB = 1024

// sizes measures one scene at 7, 12 and 50 megapixels in each kind of file: seconds
// as the median of five, each in a process of its own, and the most memory of any.
func sizes(ctx context.Context, w io.Writer) error {
	dir, err := os.MkdirTemp("", "sizes")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	fmt.Fprintln(w, "megapixels  kind    file MiB  seconds   goal  CPU s    MiB   goal")
	// A child's memory begins with its parent's (getrusage), so this process does
	// nothing large itself.
	for _, g := range sizeGoals {
		wide := fmt.Sprint(g.wide)
		if err := child(ctx, "-draw", filepath.Join(dir, wide), "-seeds", fmt.Sprint(sizeSeed), "-wide", wide); err != nil {
			return err
		}
		photo := filepath.Join(dir, wide, photograph.Seeded(sizeSeed).Name+".jpg")
		for _, kind := range g.kinds {
			file := strings.TrimSuffix(photo, "jpg") + kind
			if kind == "webp" {
				if _, err := exec.LookPath("cwebp"); err != nil {
					fmt.Fprintln(w, "webp: no program to write it is installed (cwebp), skipped")
					continue
				}
			}
			if err := child(ctx, "-alone", photo, "-as", file); err != nil {
				return err
			}
			if err := sizeRow(ctx, w, file, g.seconds); err != nil {
				return err
			}
		}
	}
	return nil
}

func child(ctx context.Context, args ...string) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	c := exec.CommandContext(ctx, self, args...)
	c.Stderr = os.Stderr
	return c.Run()
}

func sizeRow(ctx context.Context, w io.Writer, file string, goal float64) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	var took, busy []float64
	most := 0.0
	for range 5 {
		child := exec.CommandContext(ctx, self, "-alone", file)
		child.Stderr = os.Stderr
		began := time.Now()
		if err := child.Run(); err != nil {
			return fmt.Errorf("measure %s apart: %w", file, err)
		}
		took = append(took, time.Since(began).Seconds())
		busy = append(busy, (child.ProcessState.UserTime() + child.ProcessState.SystemTime()).Seconds())
		most = max(most, machine.Peak(child.ProcessState))
	}
	f, err := os.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	conf, kind, err := image.DecodeConfig(f)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err != nil {
		return err
	}
	said := "     -"
	if goal > 0 {
		said = fmt.Sprintf("%6.1f", goal)
	}
	fmt.Fprintf(w, "%10.1f  %-6s %9.1f %8.2f %s %6.2f %6.0f %6d\n", float64(conf.Width*conf.Height)/1e6, kind,
		float64(info.Size())/(1<<20), machine.Median(took), said, machine.Median(busy), most, mostMiB)
	return nil
}

// alone measures one photograph and prints nothing.
func alone(ctx context.Context, file string) error {
	photo, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	r, list, err := measure.Run(ctx, measure.Input{Photo: photo, Marks: model.Marks{PitchMM: sizePitch}})
	if err != nil {
		return err
	}
	if r.Length.Value == 0 {
		return fmt.Errorf("%s was not measured: %v", filepath.Base(file), list)
	}
	return nil
}

// writeAs writes a JPEG photograph as another kind of file.
func writeAs(ctx context.Context, from, file string) error {
	photo, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	kind := strings.TrimPrefix(filepath.Ext(file), ".")
	switch kind {
	case "jpeg":
		return os.WriteFile(file, photo, 0o644)
	case "webp":
		return exec.CommandContext(ctx, "cwebp", "-quiet", "-q", "92", from, "-o", file).Run()
	}
	img, err := jpeg.Decode(bytes.NewReader(photo))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if kind == "png" {
		err = (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&out, img)
	} else {
		err = tiff.Encode(&out, img, nil)
	}
	if err != nil {
		return err
	}
	return os.WriteFile(file, out.Bytes(), 0o644)
}
