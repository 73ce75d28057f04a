// Command measure prints how well photographs with known truth are measured: the
// whole accuracy table, each goal beside its result. The photographs lie beside the
// repository (../shared/data/photos; where absent that is said), and are drawn from
// seeds by internal/photograph, once, into the user's cache.
//
//	go run ./bench/measure [-photos DIR] [-seeds 1-200] [-marks] [-keep FILE]
//	go run ./bench/measure -sizes
//	go run ./bench/measure -draw DIR [-seeds 1-20] [-wide PIXELS]
//
// With -marks crossings are given as a hand would pick them; without, the grid is
// looked for. With -keep scores of seeds are kept in a file, and those in it are not
// measured again: remove it when the measuring has changed. The second form measures one
// scene as files of 7, 12 and 50 megapixels, seconds and memory beside their goals. The
// third writes photographs with their truth and masks, to look at. Times are medians of five, of the photographs beside the repository only. Where Python with OpenCV is installed, a straightforward
// pipeline of its calls is timed on the same photographs (rival.py).
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	"scalewright/bench/machine"
	"scalewright/stage/measure"
)

type options struct {
	photos, seeds, draw, once, keep, alone, as string
	wide                                       int
	marks, sizes                               bool
}

func main() {
	var o options
	flag.StringVar(&o.photos, "photos", filepath.Join("..", "shared", "data", "photos"), "folder of photographs with truth files")
	flag.StringVar(&o.seeds, "seeds", "", "seeds of drawn photographs, A-B; none unless given")
	flag.StringVar(&o.draw, "draw", "", "write the photographs of the seeds to this folder, and stop")
	flag.IntVar(&o.wide, "wide", 0, "with -draw: longer side of the pictures, px; 0: as they are")
	flag.BoolVar(&o.marks, "marks", false, "give crossings as a hand picks them")
	flag.StringVar(&o.once, "once", "", "measure this photograph once and print nothing (for its memory)")
	flag.BoolVar(&o.sizes, "sizes", false, "measure one scene at 7, 12 and 50 megapixels in each kind of file, and stop")
	flag.StringVar(&o.alone, "alone", "", "measure this photograph once, without its truth, and print nothing (for -sizes)")
	flag.StringVar(&o.as, "as", "", "with -alone: write it as this file instead, of its name's kind")
	flag.StringVar(&o.keep, "keep", "", "file to keep the scores of seeds in, and to go on from")
	flag.Parse()
	if err := run(context.Background(), o); err != nil {
		fmt.Fprintln(os.Stderr, "bench measure:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, o options) error {
	var seeds []uint64
	if o.seeds != "" {
		var err error
		if seeds, err = seedsOf(o.seeds); err != nil {
			return err
		}
	}
	switch {
	case o.once != "":
		dir, file := filepath.Split(o.once)
		s, err := load(dir, strings.TrimSuffix(file, filepath.Ext(file)), nil)
		if err != nil {
			return err
		}
		_, _, err = measure.Run(ctx, s.input(o.marks))
		return err
	case o.alone != "" && o.as != "":
		return writeAs(ctx, o.alone, o.as)
	case o.alone != "":
		return alone(ctx, o.alone)
	case o.sizes:
		fmt.Println(machine.String())
		return sizes(ctx, os.Stdout)
	case o.draw != "":
		return drawAll(ctx, o.draw, seeds, o.wide)
	}
	fmt.Println(machine.String())
	if err := photographs(ctx, o); err != nil {
		return err
	}
	if len(seeds) == 0 {
		return nil
	}
	scores, err := measureSeeds(ctx, seeds, o)
	if err != nil {
		return err
	}
	return table(os.Stdout, scores)
}

// photographs measures those beside the repository, one after the other, five times.
func photographs(ctx context.Context, o options) error {
	files, err := filepath.Glob(filepath.Join(o.photos, "*.json"))
	if err != nil {
		return err
	}
	if len(files) == 0 {
		fmt.Printf("no photographs with truth in %s\n", o.photos)
		return nil
	}
	var scores []score
	for _, file := range files {
		s, err := load(o.photos, strings.TrimSuffix(filepath.Base(file), ".json"), nil)
		if err != nil {
			return err
		}
		var took []float64
		var out score
		in := s.input(o.marks)
		for range 5 {
			began := time.Now()
			r, list, err := measure.Run(ctx, in)
			if err != nil {
				return err
			}
			took = append(took, time.Since(began).Seconds())
			if len(took) == 1 {
				out = scoreOf(&s, in, r, list)
			}
		}
		out.Seconds = machine.Median(took)
		if out.Memory, err = peak(ctx, strings.TrimSuffix(file, ".json")+".jpg", o.marks); err != nil {
			return err
		}
		scores = append(scores, out)
	}
	if err := table(os.Stdout, scores); err != nil {
		return err
	}
	return rival(ctx, os.Stdout, o.photos, scores)
}

// peak is the most memory that a process takes to measure one photograph, MiB.
func peak(ctx context.Context, photo string, marks bool) (float64, error) {
	self, err := os.Executable()
	if err != nil {
		return 0, err
	}
	args := []string{"-once", photo}
	if marks {
		args = append(args, "-marks")
	}
	child := exec.CommandContext(ctx, self, args...)
	child.Stderr = os.Stderr
	if err := child.Run(); err != nil {
		return 0, fmt.Errorf("measure %s apart: %w", photo, err)
	}
	return machine.Peak(child.ProcessState), nil
}

// measureSeeds draws and measures seeds, one worker for each core, in their order.
func measureSeeds(ctx context.Context, seeds []uint64, o options) ([]score, error) {
	dir, err := cacheDir()
	if err != nil {
		return nil, err
	}
	keep, err := open(o.keep)
	if err != nil {
		return nil, err
	}
	scores := make([]score, len(seeds))
	faults := make([]error, len(seeds))
	work := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for k := range work {
				old, ok := keep.has(seeds[k])
				if ok {
					scores[k] = old
					continue
				}
				if scores[k], faults[k] = measureSeed(ctx, dir, seeds[k], o); faults[k] == nil {
					faults[k] = keep.put(seeds[k], scores[k])
				}
			}
		})
	}
	for k := range seeds {
		work <- k
	}
	close(work)
	wg.Wait()
	return scores, errors.Join(faults...)
}

func measureSeed(ctx context.Context, dir string, seed uint64, o options) (score, error) {
	s, err := seeded(ctx, dir, seed)
	if err != nil {
		return score{}, err
	}
	in := s.input(o.marks)
	r, list, err := measure.Run(ctx, in)
	if err != nil {
		return score{}, fmt.Errorf("seed %d: %w", seed, err)
	}
	out := scoreOf(&s, in, r, list)
	// What was measured is said at once, so that a run cut short was not in vain.
	fmt.Fprintf(os.Stderr, "%s: grid %v, step %.3f mm of %.1f, crossings %.3f px, mat %.3f mm, IoU %.4f, radius %.3f mm, length %.3f mm, silent %v; %v; %v\n",
		out.Name, r.Grid.Found, r.Grid.PitchMM, s.truth.Mat.Pitch, out.Crossings, out.Mat, out.IoU, out.RMS, out.Length, out.Silent, out.Codes, out.Traps)
	return out, nil
}
