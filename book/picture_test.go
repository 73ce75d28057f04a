package book_test

import (
	"bytes"
	"flag"
	"image/png"
	"math"
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
	p := lane.Prepare(r)
	pictureOfTheLanes(t, p)
	var svg bytes.Buffer
	s := lane.Elevation(p, lane.View{Span: lane.Whole(r), Width: 260})
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

// The picture of the lanes is there and as wide as they are drawn: its pixels are
// not compared, for they are the same scenes that package lane holds as text.
func pictureOfTheLanes(t *testing.T, p *lane.Prepared) {
	const name, perMM = "../docs/pictures/lanes.png", 4.0
	v := lane.View{Span: p.Span, Width: 270, HasPlumb: true, Plumb: 588}
	s := lane.Sheet(p, lane.SheetOptions{View: v, Open: []string{"elevation", "pieces", "walls", "fits", "weight"}})
	if *updatePictures {
		var b bytes.Buffer
		if err := drawing.PNG(&b, s, drawing.PNGOptions{Palette: drawing.Day, PerMM: perMM}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, err := png.DecodeConfig(f)
	if want := s.Width * perMM; err != nil || math.Abs(float64(c.Width)-want) > 1 {
		t.Errorf("%s is %d pixels wide, want %v; %v", name, c.Width, want, err)
	}
}
