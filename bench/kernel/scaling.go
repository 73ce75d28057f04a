package main

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"time"

	"scalewright/bench/machine"
)

// Lattices that give 10⁴ to 2·10⁶ triangles put in. Of a tube the points round it
// are a power of two, and its drills are always the same 25,600.
var (
	ofOneBall  = []int{36, 71, 142, 283, 500}
	ofTwoBalls = []int{25, 50, 100, 200, 354}
	ofTube     = []int{32, 64, 128, 256, 512}
)

// grow prints seconds ÷ (n log n) of each case, n the triangles put in: the rows
// of one case should stay within a factor of two.
func grow(ctx context.Context, o options) error {
	fmt.Printf("%s, median of %d; ns for each n·log₂n, n the triangles put in\n", machine.String(), o.runs)
	for _, c := range o.chosen() {
		if len(c.grows) == 0 {
			continue
		}
		fmt.Println(c.name)
		least, most := math.Inf(1), 0.0
		for _, lattice := range c.grows {
			in, run, err := c.ready(ctx, lattice)
			if err != nil {
				return err
			}
			n := 0
			for _, m := range in {
				n += len(m.Triangles)
			}
			var seconds []float64
			for range o.runs {
				runtime.GC()
				began := time.Now()
				if _, err := run(ctx, in); err != nil {
					return fmt.Errorf("%s: %w", c.name, err)
				}
				seconds = append(seconds, time.Since(began).Seconds())
			}
			t := machine.Median(seconds)
			each := t * 1e9 / (float64(n) * math.Log2(float64(n)))
			least, most = min(least, each), max(most, each)
			fmt.Printf("  %8d  %8.4f s  %6.1f ns\n", n, t, each)
		}
		fmt.Printf("  most ÷ least %.2f\n", most/least)
	}
	return nil
}
