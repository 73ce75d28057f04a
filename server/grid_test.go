package server_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"testing"

	"scalewright/build"
	"scalewright/server"
)

// The grid of a photograph that was only stored: its crossings lie where those of the
// demo, which were picked by hand, lie.
func TestGridIsSeen(t *testing.T) {
	b := newBench(t)
	photo, err := os.ReadFile("../examples/foyer-rocket/photos/rocket.jpg")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../examples/foyer-rocket/photos/rocket-marks.yaml")
	if err != nil {
		t.Fatal(err)
	}
	picked, err := build.ReadMarks("rocket-marks.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	send[server.PhotoPut](b, "PUT", "./photos/rocket.jpg", photo)
	seen := get[server.GridSeen](b, "./photos/rocket.jpg/grid")
	if !seen.Found || seen.Pitch != 10 || len(seen.Crossings) < 200 || seen.RMS <= 0 || seen.RMS > 0.5 || seen.Says != "" {
		t.Fatalf("found %v, %v mm, %d crossings, rms %.2f: %s", seen.Found, seen.Pitch, len(seen.Crossings), seen.RMS, seen.Says)
	}
	// The mat's border lines and what lies by the object are left out by the finder;
	// what it gives lies where the loupe had it, never between.
	met := 0
	for _, m := range picked.Marks {
		best := math.Inf(1)
		for _, c := range seen.Crossings {
			best = min(best, distance(c, m.Pixel))
		}
		switch {
		case best < 0.5:
			met++
		case best < 30:
			t.Errorf("the crossing picked at %v is found %.1f px off", m.Pixel, best)
		}
	}
	if met < 3 {
		t.Errorf("%d of %d picked crossings are among the found", met, len(picked.Marks))
	}
	if told := get[server.GridSeen](b, "./photos/rocket.jpg/grid?pitch_mm=25.4"); told.Found || told.Says == "" {
		t.Errorf("told another step: %+v", told)
	}

	plain := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for i := range plain.Pix {
		plain.Pix[i] = color.RGBA{30, 90, 60, 255}.G
	}
	var file bytes.Buffer
	if err := png.Encode(&file, plain); err != nil {
		t.Fatal(err)
	}
	send[server.PhotoPut](b, "PUT", "./photos/plain.png", file.Bytes())
	if none := get[server.GridSeen](b, "./photos/plain.png/grid"); none.Found || none.AskPitch || none.Says == "" || none.Do == "" {
		t.Errorf("on a plain picture: %+v", none)
	}
	b.refused(404, "GET", "./photos/none.jpg/grid", nil)
}

// A step that is likely only is asked for, with the grid that is found.
func TestGridIsLikely(t *testing.T) {
	b := newBench(t)
	mat := image.NewGray(image.Rect(0, 0, 800, 600))
	for i := range mat.Pix {
		inked := func(v int) bool { v++; return v%40 == 1 || v%40 == 2 || v/40%5 == 0 && v%40 < 4 }
		mat.Pix[i] = 70
		if inked(i%800) || inked(i/800) {
			mat.Pix[i] = 200
		}
	}
	var file bytes.Buffer
	if err := png.Encode(&file, mat); err != nil {
		t.Fatal(err)
	}
	send[server.PhotoPut](b, "PUT", "./photos/mat.png", file.Bytes())
	if seen := get[server.GridSeen](b, "./photos/mat.png/grid"); !seen.Found || !seen.AskPitch || seen.Pitch != 10 || seen.Says == "" {
		t.Errorf("by heavier lines: found %v, asked %v, %g mm, says %q", seen.Found, seen.AskPitch, seen.Pitch, seen.Says)
	}
	if told := get[server.GridSeen](b, "./photos/mat.png/grid?pitch_mm=10"); !told.Found || told.AskPitch || told.Says != "" {
		t.Errorf("told: found %v, asked %v, says %q", told.Found, told.AskPitch, told.Says)
	}
}
