// Command kernel measures package solid beside a general-purpose geometry library
// on the same solids in the same run: seconds, triangles, volumes and areas, and
// for itself how time and memory grow.
//
//	(cd bench/kernel && npm ci --ignore-scripts)
//	go run ./bench/kernel [-n 256] [-runs 5] [-only "a A-B"] [-scaling] [-memory]
//
// Where Node or the library is absent it says so and measures package solid
// alone.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
)

func main() {
	o := options{}
	flag.IntVar(&o.n, "n", 256, "lattice of the spheres, and half the points round the tube: 256 is the recipe")
	flag.IntVar(&o.runs, "runs", 5, "runs of each case, of which the median is printed")
	flag.StringVar(&o.only, "only", "", "one case")
	flag.StringVar(&o.child, "child", "", "run one case once and print its memory")
	scaling := flag.Bool("scaling", false, "print how time grows with the number of triangles")
	memory := flag.Bool("memory", false, "print the peak memory of each case")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	run := compare
	switch {
	case o.child != "":
		run = child
	case *scaling:
		run = grow
	case *memory:
		run = weigh
	}
	if err := run(ctx, o); err != nil {
		fmt.Fprintln(os.Stderr, "bench kernel:", err)
		os.Exit(1)
	}
}

type options struct {
	n, runs     int
	only, child string
}

// chosen are the cases to run.
func (o options) chosen() []benchCase {
	var out []benchCase
	for _, c := range cases {
		if o.only == "" || o.only == c.name {
			out = append(out, c)
		}
	}
	return out
}
