package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"

	"scalewright/internal/photograph"
)

// seedsOf reads a range such as 1-200, or one seed.
func seedsOf(s string) (out []uint64, err error) {
	a, b, isRange := strings.Cut(s, "-")
	lo, err := strconv.ParseUint(a, 10, 32)
	if err != nil {
		return nil, fmt.Errorf("seeds %q: want A-B", s)
	}
	hi := lo
	if isRange {
		if hi, err = strconv.ParseUint(b, 10, 32); err != nil || hi < lo {
			return nil, fmt.Errorf("seeds %q: want A-B", s)
		}
	}
	for k := lo; k <= hi; k++ {
		out = append(out, k)
	}
	return out, nil
}

// drawAll writes the photographs of seeds that a folder does not hold yet, one
// worker for each core. Wide is the longer side of the pictures; 0: as they are.
func drawAll(ctx context.Context, dir string, seeds []uint64, wide int) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	work := make(chan uint64)
	faults := make([]error, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for k := range faults {
		wg.Go(func() {
			for seed := range work {
				if faults[k] == nil {
					faults[k] = drawOne(ctx, dir, seed, wide)
				}
			}
		})
	}
	for _, seed := range seeds {
		work <- seed
	}
	close(work)
	wg.Wait()
	return errors.Join(faults...)
}

// drawOne writes the truth last: its file says that the others are whole.
func drawOne(ctx context.Context, dir string, seed uint64, wide int) error {
	scene := photograph.Seeded(seed)
	if wide > 0 {
		scene = scene.Sized(wide)
	}
	base := filepath.Join(dir, scene.Name)
	if _, err := os.Stat(base + ".json"); err == nil {
		return nil
	}
	photo, truth, err := scene.Draw(ctx)
	if err != nil {
		return err
	}
	if err := os.WriteFile(base+".jpg", photo, 0o644); err != nil {
		return err
	}
	file, err := os.Create(base + "_mask.png")
	if err != nil {
		return err
	}
	if err := errors.Join(png.Encode(file, truth.Coverage), file.Close()); err != nil {
		return err
	}
	raw, err := json.MarshalIndent(truth, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(base+".json", raw, 0o644)
}
