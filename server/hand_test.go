package server_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"scalewright/build"
	"scalewright/server"
)

// photographed is the small build with the demo's photograph, measured.
func photographed(t *testing.T) *bench {
	t.Helper()
	b := newBench(t)
	photo, err := os.ReadFile("../examples/foyer-rocket/photos/rocket.jpg")
	if err != nil {
		t.Fatal(err)
	}
	put := send[server.PhotoPut](b, "PUT", "./photos/rocket.jpg", photo)
	folder, err := build.Open("../examples/foyer-rocket")
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	demo, err := folder.Load()
	if err != nil {
		t.Fatal(err)
	}
	marks := server.Marks{Pitch: demo.Marks.PitchMM}
	for _, m := range demo.Marks.Marks {
		marks.Marks = append(marks.Marks, server.Mark{Px: m.Pixel, Mm: m.Mat})
	}
	stored := send[server.Stored](b, "PUT", "./marks/rocket.jpg", marks)
	send[server.Edited](b, "POST", "./edits", server.Edit{
		Base: version(b), Wait: 60_000, Name: "the photograph",
		Changes: []server.Change{
			{Op: "drop", At: at("reference.outline")},
			{Op: "put", At: at("reference.photo"), Text: put.File, Free: true},
			{Op: "put", At: at("reference.marks"), Text: stored.File, Free: true},
			{Op: "put", At: at("reference.length"), Text: "218.5 ± 0.2 ref"},
			{Op: "put", At: at("enlarge.ratio"), Text: "2"},
		},
	})
	return b
}

func (b *bench) keep(name string, changes []server.Change) *server.PhotoFacts {
	b.t.Helper()
	send[server.Edited](b, "POST", "./edits", server.Edit{Base: version(b), Wait: 60_000, Name: name, Changes: changes})
	return get[server.ReferenceSheet](b, "./reference").Photo
}

func distance(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// What is done by hand on the photograph: a corner dragged, a stroke painted, a circle
// placed; each an edit, and each taken back by one.
func TestByHand(t *testing.T) {
	b := photographed(t)
	photo := get[server.ReferenceSheet](b, "./reference").Photo
	if photo == nil || len(photo.Outline) != 2 || len(photo.Band) != 2 || photo.Scale < 3 || photo.Scale > 20 {
		t.Fatalf("photograph = %+v", photo)
	}
	// The outline is drawn where the edge was found: along the cylinder within a pixel
	// and a half of both sides' edge points.
	for _, station := range []float64{75, 90, 100} {
		for _, side := range photo.Edges {
			edge := near(side, station)
			best := math.Inf(1)
			for _, line := range photo.Outline {
				for i := 1; i < len(line); i++ {
					best = min(best, offLine(edge.Px, line[i-1], line[i]))
				}
			}
			if best > 1.5 {
				t.Errorf("at %v the outline is drawn %.1f px from the edge", station, best)
			}
		}
	}

	// The shoulder's upper corner, near (150, 17).
	var corner *server.Corner
	for k := range photo.Corners {
		if c := &photo.Corners[k]; !c.Arc && math.Abs(c.At[0]-150) < 2 && math.Abs(c.At[1]-17) < 1 {
			corner = c
		}
	}
	if corner == nil {
		t.Fatalf("no corner near (150, 17): %+v", photo.Corners)
	}
	for side, q := range corner.Px {
		stay := send[server.MovedCorner](b, "POST", "./reference/corner", server.MoveCorner{Corner: corner.Corner, Side: side, Px: &q})
		if distance(stay.At, corner.At) > 0.05 {
			t.Errorf("side %d: its own pixel says %v, it lies at %v", side, stay.At, corner.At)
		}
	}
	to := corner.Px[0]
	to[0] += 12
	moved := send[server.MovedCorner](b, "POST", "./reference/corner", server.MoveCorner{Corner: corner.Corner, Side: 0, Px: &to})
	if distance(moved.Px[0], to) > 0.5 || len(moved.Ghost) != 2 || len(moved.Ghost[0]) < 3 || moved.Trouble != "" || len(moved.Changes) != 1 {
		t.Fatalf("moved = %+v", moved)
	}
	caught := send[server.MovedCorner](b, "POST", "./reference/corner", server.MoveCorner{Corner: corner.Corner, Side: 0, Px: &to, Catch: 200})
	if caught.Caught == "" || caught.At == moved.At {
		t.Errorf("not caught: %+v", caught)
	}
	arcs := 0
	for _, c := range photo.Corners {
		if !c.Arc || c.At[1] < 5 { // the tip's own arc turns back as soon as it is bent
			continue
		}
		arcs++
		out := [2]float64{c.At[0], c.At[1] + 0.5}
		bent := send[server.MovedCorner](b, "POST", "./reference/corner", server.MoveCorner{Corner: c.Corner, Arc: true, At: &out})
		if bent.Trouble != "" || len(bent.Changes) != 1 || !strings.Contains(bent.Changes[0].Text, "what: arc") || len(bent.Ghost[0]) < 10 {
			t.Errorf("an arc bent: %+v", bent)
		}
	}
	if arcs == 0 {
		t.Error("the nose has no arc to bend")
	}
	far := [2]float64{corner.At[0] - 100, corner.At[1]}
	if back := send[server.MovedCorner](b, "POST", "./reference/corner", server.MoveCorner{Corner: corner.Corner, At: &far}); back.Trouble == "" || len(back.Changes) > 0 {
		t.Errorf("an outline that runs back: %+v", back)
	}
	photo = b.keep("corner moved", moved.Changes)
	again := photo.Corners[0]
	for _, c := range photo.Corners {
		if c.Corner == corner.Corner && !c.Arc {
			again = c
		}
	}
	if !again.Moved || again.At != moved.At || len(again.Undo) != 1 {
		t.Fatalf("kept as %+v, want %v", again, moved.At)
	}
	second := send[server.MovedCorner](b, "POST", "./reference/corner", server.MoveCorner{Corner: corner.Corner, At: &corner.At})
	if len(second.Changes) != 2 || second.Changes[0].At.Path != "reference.corrections.0.to" {
		t.Errorf("moved again: %+v", second.Changes)
	}
	if b.keep("as measured", again.Undo); strings.Contains(b.text(), "corrections") {
		t.Errorf("still there:\n%s", b.text())
	}

	// A stroke beside the object, and one that takes it away.
	painted := send[server.Painted](b, "POST", "./reference/stroke", server.Paint{Is: "mat", Wide: 4, Px: [][2]float64{{300, 300}, {400, 300.1}, {500, 300}, {500, 400}}})
	photo = b.keep("a stroke", painted.Changes)
	if len(photo.Strokes) != 1 || len(photo.Strokes[0].Px) != 3 || distance(photo.Strokes[0].Px[0], [2]float64{300, 300}) > 1 {
		t.Fatalf("strokes = %+v", photo.Strokes)
	}
	if photo = b.keep("no stroke", photo.Strokes[0].Drop); len(photo.Strokes) != 0 {
		t.Errorf("strokes = %+v", photo.Strokes)
	}

	// A circle on the cylinder between the two sides.
	one, other := near(photo.Edges[0], 90).Px, near(photo.Edges[1], 90).Px
	middle := [2]float64{(one[0] + other[0]) / 2, (one[1] + other[1]) / 2}
	mark := server.MarkFeature{Is: "circle", From: [2]float64{middle[0] - 40, middle[1]}, To: [2]float64{middle[0] + 40, middle[1]}}
	placed := send[server.MarkedFeature](b, "POST", "./reference/feature", mark)
	if placed.Feature.Lost || len(placed.Changes) != 1 || len(placed.Feature.Ring) < 20 {
		t.Fatalf("placed = %+v", placed)
	}
	photo = b.keep("a circle", placed.Changes)
	if len(photo.Features) != 1 || photo.Features[0].Lost || !strings.Contains(photo.Features[0].Says, "station 8") && !strings.Contains(photo.Features[0].Says, "station 9") {
		t.Fatalf("features = %+v", photo.Features)
	}
	takes := photo.Features[0].Takes
	if len(takes) != 1 || !strings.Contains(takes[0].Changes[0].Text, "clocking_deg") {
		t.Fatalf("takes = %+v", takes)
	}
	b.keep("an opening", takes[0].Changes)
	if !strings.Contains(b.text(), "openings:") {
		t.Errorf("no opening:\n%s", b.text())
	}
	mark.To = [2]float64{5, 5}
	if lost := send[server.MarkedFeature](b, "POST", "./reference/feature", mark); !lost.Feature.Lost || len(lost.Changes) > 0 {
		t.Errorf("off the body: %+v", lost)
	}
}

// offLine is how far a place lies from a line between two others.
func offLine(p, a, b [2]float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(max(((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l, 0), 1)
	}
	return distance(p, [2]float64{a[0] + t*dx, a[1] + t*dy})
}

// By hand on a build without a photograph there is nothing to put hands on.
func TestByHandWithoutAPhotograph(t *testing.T) {
	b := newBench(t)
	b.refused(422, "POST", "./reference/corner", server.MoveCorner{})
	b.refused(422, "POST", "./reference/stroke", server.Paint{Is: "mat", Wide: 4, Px: [][2]float64{{1, 1}}})
	b.refused(422, "POST", "./reference/feature", server.MarkFeature{Is: "line"})
	b.refused(422, "POST", "./reference/feature", map[string]any{"is": "square", "from_px": []float64{1, 2}, "to_px": []float64{1, 2}})
}
