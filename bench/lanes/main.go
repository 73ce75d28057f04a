// Command lanes measures how long a lane takes to redraw, for the demo and for a
// build of 200 pieces: medians of five, with the goals beside the figures. With
// -pictures it writes every lane of every example as PNG instead, to be looked at.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"scalewright/bench/machine"
	"scalewright/build"
	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/lane/lanetest"
	"scalewright/unit"
)

const (
	runs       = 5
	goalDemo   = 10.0 // ms
	goalMany   = 50.0
	manyPieces = 200
)

func main() {
	pictures := flag.String("pictures", "", "folder to write pictures of all examples to")
	only := flag.String("example", "", "one example only")
	flag.Parse()
	err := measure()
	if *pictures != "" {
		err = draw(*pictures, *only)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench lanes:", err)
		os.Exit(1)
	}
}

// derive runs the stages on an example.
func derive(dir string) (job.Result, error) {
	f, err := build.Open(dir)
	if err != nil {
		return job.Result{}, err
	}
	defer f.Close()
	l, err := f.Load()
	if err != nil {
		return job.Result{}, err
	}
	return job.Run(context.Background(), job.Input{
		Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks, Outlines: l.Outlines,
		Models: l.Files, Events: l.Events, Kept: l.Kept, Seed: 1,
	})
}

func measure() error {
	demo, err := derive("examples/foyer-rocket")
	if err != nil {
		return err
	}
	fmt.Printf("%s, median of %d, ms\n", machine.String(), runs)
	fmt.Printf("%-12s %14s %14s\n", "lane", "demo", "200 pieces")
	builds := [...]job.Result{demo, lanetest.Many(manyPieces)}
	var prepared [len(builds)]*lane.Prepared
	var row strings.Builder
	row.WriteString("prepare")
	for i, r := range builds {
		prepared[i] = lane.Prepare(r)
		fmt.Fprintf(&row, " %14.2f", median(func() { lane.Prepare(r) }))
	}
	fmt.Println(row.String())
	for _, l := range lane.All() {
		fmt.Printf("%-12s", l.ID)
		for _, p := range prepared {
			v := lane.View{Span: p.Span, Width: 1200 * drawing.Pixel, Plumb: p.Span.To / 2, HasPlumb: true}
			fmt.Printf(" %14.2f", median(func() { l.Draw(p, v) }))
		}
		fmt.Println()
	}
	fmt.Printf("%-12s %14.0f %14.0f\n", "goal", goalDemo, goalMany)
	return nil
}

func median(work func()) float64 {
	var ms []float64
	for range runs {
		began := time.Now()
		work()
		ms = append(ms, float64(time.Since(began).Microseconds())/1000)
	}
	return machine.Median(ms)
}

func draw(into, only string) error {
	examples := []string{"foyer-rocket", "angled-handle", "letters", "acorn", "newel-post"}
	if only != "" {
		examples = []string{only}
	}
	open := []string{"elevation", "pieces", "walls", "core", "fits", "weight", "finish", "error", "lights"}
	for _, name := range examples {
		r, err := derive(filepath.Join("examples", name))
		if err != nil {
			return err
		}
		p := lane.Prepare(r)
		v := lane.Fitted(p, lane.View{Width: 1100 * drawing.Pixel, Plumb: p.Span.From + p.Span.Length()*45/100, HasPlumb: true})
		imperial := v
		imperial.System = unit.FeetInches
		phone := lane.Fitted(p, lane.View{Width: 374 * drawing.Pixel, Plumb: v.Plumb, HasPlumb: true})
		small := lane.Fitted(p, lane.View{Width: 760 * drawing.Pixel, Plumb: v.Plumb, HasPlumb: true})
		near := v
		near.Span.From, near.Span.To = p.Span.From+p.Span.Length()/2, p.Span.From+p.Span.Length()*6/10
		near.Plumb = near.Span.From + near.Span.Length()/3
		for file, s := range map[string]struct {
			o       lane.SheetOptions
			palette drawing.Palette
		}{
			"day":    {lane.SheetOptions{View: v, Open: open}, drawing.Day},
			"night":  {lane.SheetOptions{View: v, Open: open[:3]}, drawing.Night},
			"ft-in":  {lane.SheetOptions{View: imperial, Open: open[:3]}, drawing.Day},
			"near":   {lane.SheetOptions{View: near, Open: open}, drawing.Day},
			"phone":  {lane.SheetOptions{View: phone, Head: 18, Open: open}, drawing.Day},
			"small":  {lane.SheetOptions{View: small, Head: 26, Open: open}, drawing.Day},
			"folded": {lane.SheetOptions{View: v}, drawing.Print},
		} {
			if err := picture(filepath.Join(into, name+"-"+file+".png"), lane.Sheet(p, s.o), s.palette); err != nil {
				return err
			}
		}
	}
	return nil
}

func picture(name string, s *drawing.Scene, palette drawing.Palette) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	return drawing.PNG(f, s, drawing.PNGOptions{Palette: palette, PerMM: 4.5})
}
