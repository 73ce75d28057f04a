package book_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"scalewright/build"
	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
)

var updatePictures = flag.Bool("pictures", false, "rewrite docs/pictures")

// The picture in the README is the demo's elevation, drawn by the lane.
func TestPictureOfTheDemo(t *testing.T) {
	f, err := build.Open("../examples/foyer-rocket")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	in := job.Input{
		Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks,
		Outlines: l.Outlines, Seed: 1,
	}
	r, err := job.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	var svg bytes.Buffer
	s := lane.Elevation(lane.Prepare(r), lane.View{Span: lane.Whole(r), Width: 260})
	if err := drawing.SVG(&svg, s, drawing.SVGOptions{Palette: drawing.Day, Family: drawing.PaperFamily}); err != nil {
		t.Fatal(err)
	}
	const name = "../docs/pictures/foyer-rocket.svg"
	if *updatePictures {
		if err := os.WriteFile(name, svg.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, svg.Bytes()) {
		t.Errorf("%s is not what the lane draws; go test ./book -pictures", name)
	}
}
