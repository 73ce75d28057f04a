package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"scalewright/book"
	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/stage/readings"
	"scalewright/unit"
)

type measureCmd struct {
	Photo  []string `arg:"" help:"Photograph of the reference on a cutting mat; further ones by the same camera, best tilted, only help to know its lens." type:"path"`
	Marks  []string `sep:"none" help:"Places of the mat's grid picked in the photograph, where it is not found by itself: YAML or JSON {pitch_mm, marks: [{px: [x, y], mm: [X, Y]}]}, pixels of the upright picture. Given again, for the next photograph." type:"path"`
	Grid   string   `help:"Step of the mat's printed grid, such as 10mm or 1/2in, where the photograph does not show it."`
	Datum  string   `help:"End that is station 0: left or right." enum:"left,right" default:"left"`
	Length string   `help:"Length by caliper, such as \"218.5 ± 0.2 mm\"."`
	Known  string   `name:"known-length" placeholder:"LENGTH" help:"One length in the photograph that sets its scale, where no mat lies in it: \"150 ± 0.1 mm from 812,1404 to 1190,1400 above 1 mm\", pixels of the upright picture; or \"... on axis\"."`
	Thick  float64  `help:"Thickness of flat parts that lie on the mat, mm."`
	JSON   bool     `name:"json" help:"Print one JSON object."`

	Reading []string `sep:"none" placeholder:"READING" help:"What a caliper says besides, each with its own flag: \"diameter 42.02 ± 0.03 mm at 80\", \"length 168.1 mm from 0 to 168\"."`
}

func (c *measureCmd) Run(ctx context.Context, f *face) error {
	in, err := c.input()
	if err != nil {
		return err
	}
	read := make([]readings.Reading, len(c.Reading))
	for i, text := range c.Reading {
		if read[i], err = readReading(text); err != nil {
			return err
		}
		read[i].At = finding.Place{File: "--reading", Path: strconv.Itoa(i)}
	}
	all, found, err := job.Measure(ctx, in, read)
	result := all.Result
	if err != nil {
		return err
	}
	found = found.Sorted()
	w := finding.Writer{System: f.system}
	if c.JSON {
		err = printJSON(f.out, struct {
			measure.Result
			Readings  book.ReadingsJSON  `json:"readings"`
			Proposals book.ProposalsJSON `json:"proposals"`
			Findings  []book.Finding     `json:"findings"`
		}{result, book.Readings(all.Readings), book.Proposals(all.Trued), book.Findings(found, w)})
	} else {
		c.print(f, result, found, w)
		for _, line := range book.SayProposals(all.Trued) {
			fmt.Fprintln(f.out, "perhaps:", line)
		}
		if next := book.NextReading(all.Readings.Next, 0); next != "" {
			fmt.Fprintln(f.out, "next:", next)
		}
	}
	if err == nil && (result.Lost && len(result.Outlines) == 0 || found.Blocked()) {
		err = errBlocked
	}
	return err
}

func (c *measureCmd) input() (measure.Input, error) {
	if len(c.Marks) > len(c.Photo) {
		return measure.Input{}, &usageError{"more files of marks than photographs", "give --marks once for each photograph, in their order"}
	}
	in := measure.Input{Datum: c.Datum, Flat: true, Thick: c.Thick}
	for i, name := range c.Photo {
		o, err := c.photo(i, name)
		if err != nil {
			return in, err
		}
		if i == 0 {
			in.Photo, in.Marks, in.PhotoAt, in.MarksAt = o.Photo, o.Marks, o.PhotoAt, o.MarksAt
		} else {
			in.Others = append(in.Others, o)
		}
	}
	if c.Grid != "" {
		d, err := unit.ParseDim(c.Grid)
		if err != nil || d.MM <= 0 {
			return in, &usageError{fmt.Sprintf("--grid %q is no length", c.Grid), "write it like 10mm or 1/2in"}
		}
		in.Marks.PitchMM = d.MM
		for i := range in.Others {
			in.Others[i].Marks.PitchMM = d.MM
		}
	}
	if c.Known != "" {
		if len(c.Marks) > 0 || c.Grid != "" || len(c.Photo) > 1 {
			return in, &usageError{"--known-length is for a photograph without a mat", "leave out --marks, --grid and further photographs, or leave it out"}
		}
		k, err := readKnown(c.Known)
		if err != nil {
			return in, err
		}
		in.Known = k
	}
	if c.Length != "" {
		d, err := unit.ParseDim(c.Length)
		if err != nil {
			return in, &usageError{err.Error(), `write it like "218.5 ± 0.2 mm"`}
		}
		in.Length = unit.Estimate(d.MM, d.U)
	}
	return in, nil
}

// photo is one photograph with the marks picked in it.
func (c *measureCmd) photo(i int, name string) (o measure.Other, err error) {
	o.PhotoAt = finding.Place{File: filepath.Base(name)}
	o.MarksAt = o.PhotoAt
	if o.Photo, err = os.ReadFile(name); err != nil {
		return o, err
	}
	if i < len(c.Marks) {
		o.Marks, err = readMarks(c.Marks[i])
		o.MarksAt.File = filepath.Base(c.Marks[i])
	}
	return o, err
}

func readMarks(name string) (model.Marks, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return model.Marks{}, err
	}
	return build.ReadMarks(filepath.Base(name), text)
}

// How many stations the plain report prints.
const stationsPrinted = 24

func (c *measureCmd) print(f *face, r measure.Result, found finding.List, w finding.Writer) {
	for _, one := range found {
		w.Print(f.out, one)
	}
	if len(r.Profile) == 0 {
		printFlat(f, r.Outlines)
		return
	}
	if r.Scale.By == measure.ByLength {
		fmt.Fprintf(f.out, "length %.2f ± %.2f mm, camera %.0f mm above the table, by one known length\n", r.Length.Value, 2*r.Length.U, r.Camera.HeightMM)
	} else {
		fmt.Fprintf(f.out, "length %.2f ± %.2f mm, camera %.0f mm above the mat, %s within %.2f px\n",
			r.Length.Value, 2*r.Length.U, r.Camera.HeightMM, crossings(r.Grid), r.Grid.RMSPx)
	}
	fmt.Fprintln(f.out, "station  radius     ±   (mm of the reference; ± is two standard uncertainties)")
	step := max(1, len(r.Profile)/stationsPrinted)
	for i := 0; i < len(r.Profile); i += step {
		p := r.Profile[i]
		fmt.Fprintf(f.out, "%7.1f %7.2f %5.2f\n", p.Station, p.Radius, 2*p.U)
	}
}

// crossings says what the camera was fitted to.
func crossings(g measure.Grid) string {
	if !g.Found {
		return fmt.Sprintf("%d marks", g.Crossings)
	}
	return fmt.Sprintf("grid of %g mm found, %d crossings", g.PitchMM, g.Crossings)
}

// printFlat lists flat outlines, a segment a line.
func printFlat(f *face, outlines []measure.Outline) {
	for _, o := range outlines {
		fmt.Fprintf(f.out, "outline %s, %d segments (x, y on the mat, mm)\n", o.Name, len(o.Segments))
		for _, s := range o.Segments {
			fmt.Fprintf(f.out, "  %-4s %8.2f %8.2f  to %8.2f %8.2f", s.Kind, s.From[0], s.From[1], s.To[0], s.To[1])
			if s.Centre != nil {
				fmt.Fprintf(f.out, "  centre %8.2f %8.2f radius %.2f", s.Centre[0], s.Centre[1], s.Radius)
			}
			fmt.Fprintln(f.out)
		}
	}
}
