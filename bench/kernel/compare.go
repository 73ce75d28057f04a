package main

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"strconv"
	"time"

	"scalewright/bench/machine"
)

// compare runs each case by turns with both programs and prints a line of each.
func compare(ctx context.Context, o options) error {
	library, err := startReference(ctx)
	if err != nil {
		fmt.Printf("not compared: %v\n", err)
	} else {
		defer library.stop()
	}
	fmt.Printf("%s, n = %d, median of %d\n", machine.String(), o.n, o.runs)
	if library != nil {
		fmt.Printf("beside manifold-3d %s in Node %s: \"alone\" without its import and export\n", library.Version, library.Node)
	}
	// Columns of one width, so that each case is shown when it is done.
	row := func(cells ...string) {
		fmt.Printf("%-10s", cells[0])
		for i, cell := range cells[1:] {
			fmt.Printf(" %*s", widths[i], cell)
		}
		fmt.Println()
	}
	row("", "seconds", "", "", "ours ÷", "triangles", "", "volume", "off by, of", "", "area", "off by, of", "")
	row("case", "ours", "theirs", "alone", "theirs", "ours", "theirs", "mm³", "theirs", "exact", "mm²", "theirs", "exact")
	for _, c := range o.chosen() {
		cells, err := c.compare(ctx, library, o)
		if err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
		row(append([]string{c.name}, cells...)...)
	}
	return nil
}

var widths = [...]int{8, 8, 8, 7, 9, 9, 17, 10, 8, 17, 10, 8}

func (c benchCase) compare(ctx context.Context, library *reference, o options) ([]string, error) {
	in, run, err := c.ready(ctx, o.n)
	if err != nil {
		return nil, err
	}
	runs := o.runs
	if c.once {
		runs = 1
	}
	var ours, theirs, alone []float64
	var r result
	var a answer
	for range runs {
		runtime.GC() // what the run before left behind is no part of this one
		began := time.Now()
		if r, err = run(ctx, in); err != nil {
			return nil, err
		}
		ours = append(ours, time.Since(began).Seconds())
		if library == nil || c.name == "e" && o.n > mostOfE {
			a.Absent = true
			continue
		}
		if a, err = library.run(c.name, o.n); err != nil {
			return nil, err
		}
		theirs, alone = append(theirs, a.Whole), append(alone, a.Alone)
	}
	mine := machine.Median(ours)
	cells := []string{seconds(mine), "–", "–", "–"}
	if !a.Absent {
		t := machine.Median(theirs)
		cells = []string{seconds(mine), seconds(t), seconds(machine.Median(alone)), fmt.Sprintf("%.2f", mine/t)}
	}
	exactVolume, exactArea := c.volume, c.area
	if o.n != 256 {
		exactVolume, exactArea = 0, 0 // those of the recipe's own size only
	}
	volume, area := r.mesh.Volume(), r.area()
	return append(cells, strconv.Itoa(len(r.mesh.Triangles)), strconv.Itoa(a.Triangles),
		fmt.Sprintf("%.12g", volume), off(volume, a.Volume), off(volume, exactVolume),
		fmt.Sprintf("%.12g", area), off(area, a.Area), off(area, exactArea)), nil
}

func seconds(s float64) string { return fmt.Sprintf("%.4f", s) }

// mostOfE is the largest lattice at which the library is asked for case e, which
// fills its 4 GiB beyond that.
const mostOfE = 64

// off is a relative difference; a dash where there is nothing to compare with.
func off(x, reference float64) string {
	if reference == 0 {
		return "–"
	}
	return fmt.Sprintf("%.1e", math.Abs(x-reference)/math.Abs(reference))
}
