// Command measure prints how well photographs with known truth are measured from
// their marks: each figure beside its goal. The photographs lie beside the
// repository (../shared/data/photos); one that is absent is said to be.
//
//	go run ./bench/measure [-photos DIR]
//	go run ./bench/measure -draw DIR [-seeds 1-20]
//
// The second writes photographs of seeds, with their truth and masks, to look at.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"text/tabwriter"
	"time"

	"scalewright/model"
	"scalewright/stage/measure"
)

func main() {
	dir := flag.String("photos", filepath.Join("..", "shared", "data", "photos"), "folder of photographs with truth files")
	draw := flag.String("draw", "", "write the photographs of the seeds to this folder, and stop")
	seeds := flag.String("seeds", "1-20", "seeds of drawn photographs, A-B")
	wide := flag.Int("wide", 0, "with -draw: longer side of the pictures, px; 0: as they are")
	flag.Parse()
	err := func() error {
		list, err := seedsOf(*seeds)
		if err != nil {
			return err
		}
		if *draw != "" {
			return drawAll(context.Background(), *draw, list, *wide)
		}
		return run(*dir)
	}()
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench measure:", err)
		os.Exit(1)
	}
}

// truth is the part of a truth file that is compared.
type truth struct {
	Image string `json:"image"`
	Mat   struct {
		Pitch     float64 `json:"pitch_mm"`
		Suggested []struct {
			Mm [2]float64 `json:"printed_mm"`
			Px [2]float64 `json:"px"`
		} `json:"suggested_marks"`
	} `json:"mat"`
	Object struct {
		Length float64 `json:"length_mm"`
		Start  float64 `json:"axis_height_start_mm"`
		End    float64 `json:"axis_height_end_mm"`
		Fins   []struct {
			Poly [][2]float64 `json:"poly"`
		} `json:"fins"`
		Plates []struct {
			From float64 `json:"s0"`
			To   float64 `json:"s1"`
		} `json:"plates"`
		Segments []struct {
			From float64 `json:"s0"`
			To   float64 `json:"s1"`
		} `json:"segments"`
		Dense struct {
			Step   float64   `json:"step_mm"`
			Radius []float64 `json:"radius_mm"`
		} `json:"profile_dense"`
	} `json:"object"`
}

func run(dir string) error {
	files, err := filepath.Glob(filepath.Join(dir, "*.json"))
	if err != nil {
		return err
	}
	if len(files) == 0 {
		fmt.Printf("no photographs with truth in %s: nothing measured\n", dir)
		return nil
	}
	w := tabwriter.NewWriter(os.Stdout, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "photograph\tmarks rms px\tradius rms mm\tp95\tmax\tinside ±2u %\tmedian 2u mm\tlength off mm\taxis off mm\tseconds")
	fmt.Fprintln(w, "goal\t\t≤ 0.10\t≤ 0.20\t≤ 0.40\t90 to 99\t≤ 0.4\t≤ 0.3\t≤ 0.2\t≤ 5")
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		var t truth
		if err := json.Unmarshal(raw, &t); err != nil {
			return fmt.Errorf("read %s: %w", file, err)
		}
		if err := line(w, dir, t); err != nil {
			return err
		}
	}
	return w.Flush()
}

func line(w *tabwriter.Writer, dir string, t truth) error {
	photo, err := os.ReadFile(filepath.Join(dir, t.Image))
	if err != nil {
		fmt.Fprintf(w, "%s\tabsent\n", t.Image)
		return nil
	}
	in := measure.Input{Photo: photo, Marks: model.Marks{PitchMM: t.Mat.Pitch}}
	for _, m := range t.Mat.Suggested { // as a loupe picks them, to a tenth of a pixel
		in.Marks.Marks = append(in.Marks.Marks, model.Mark{
			Pixel: [2]float64{math.Round(m.Px[0]*10) / 10, math.Round(m.Px[1]*10) / 10}, Mat: m.Mm,
		})
	}
	var took []time.Duration
	var r measure.Result
	for range 5 {
		began := time.Now()
		var err error
		var found []string
		r, found, err = once(in)
		if err != nil {
			return err
		}
		took = append(took, time.Since(began))
		if r.Lost {
			fmt.Fprintf(w, "%s\tno profile: %v\n", t.Image, found)
			return nil
		}
	}
	slices.Sort(took)
	var off, twoU []float64
	in2u := 0
	for _, p := range r.Profile {
		if !t.clear(p.Station) {
			continue
		}
		e := math.Abs(p.Radius - t.at(p.Station))
		off, twoU = append(off, e), append(twoU, 2*p.U)
		if e <= 2*p.U {
			in2u++
		}
	}
	slices.Sort(off)
	slices.Sort(twoU)
	n := len(off)
	ss := 0.0
	for _, e := range off {
		ss += e * e
	}
	fmt.Fprintf(w, "%s\t%.3f\t%.3f\t%.3f\t%.3f\t%.1f\t%.3f\t%+.3f\t%+.2f %+.2f\t%.2f\n", t.Image, r.Grid.RMSPx,
		math.Sqrt(ss/float64(n)), off[n*95/100], off[n-1], 100*float64(in2u)/float64(n), twoU[n/2],
		r.Length.Value-t.Object.Length, r.Axis.StartMM-t.Object.Start, r.Axis.EndMM-t.Object.End, took[len(took)/2].Seconds())
	return nil
}

func once(in measure.Input) (measure.Result, []string, error) {
	r, list, err := measure.Run(context.Background(), in)
	var codes []string
	for _, f := range list {
		codes = append(codes, string(f.Code))
	}
	return r, codes, err
}

// clear reports whether a station lies 3 mm or more from steps, from both ends
// and from what fins and plates hide.
func (t truth) clear(s float64) bool {
	const far = 3.0
	if s < far || s > t.Object.Length-far {
		return false
	}
	for _, g := range t.Object.Segments {
		if g.From == g.To && math.Abs(g.From-s) < far {
			return false
		}
	}
	for _, f := range t.Object.Fins {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range f.Poly {
			lo, hi = min(lo, p[0]), max(hi, p[0])
		}
		if lo-far <= s && s <= hi+far {
			return false
		}
	}
	for _, p := range t.Object.Plates {
		if p.From-far <= s && s <= p.To+far {
			return false
		}
	}
	return true
}

func (t truth) at(s float64) float64 {
	d := t.Object.Dense
	x := s / d.Step
	k := min(int(x), len(d.Radius)-2)
	f := x - float64(k)
	return d.Radius[k]*(1-f) + d.Radius[k+1]*f
}
