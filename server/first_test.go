package server_test

import (
	"cmp"
	"math"
	"os"
	"slices"
	"testing"

	"scalewright/build"
	"scalewright/server"
)

// A build from its photograph to its verdict by the page alone: photograph, marks and a
// typed outline are stored, and one edit makes the build name them.
func TestFromAPhotograph(t *testing.T) {
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
	tail := server.TypedOutline{Doubt: 0.1, Of: "reference"}
	for _, s := range build.Steps(demo.Outlines["outlines/tail.yaml"].Path) {
		tail.Path = append(tail.Path, server.OutlineStep(s))
	}
	outline := send[server.Stored](b, "PUT", "./outlines/tail", tail)
	done := send[server.Edited](b, "POST", "./edits", server.Edit{
		Base: version(b), Wait: 60_000, Name: "the photograph",
		Changes: []server.Change{
			{Op: "drop", At: at("reference.outline")},
			{Op: "put", At: at("reference.photo"), Text: put.File, Free: true},
			{Op: "put", At: at("reference.marks"), Text: stored.File, Free: true},
			{Op: "put", At: at("reference.datum"), Text: "left"},
			{Op: "put", At: at("reference.length"), Text: "218.5 ± 0.2 ref"},
			{Op: "put", At: at("reference.hidden"), Text: "[{from: 5 ref, to: 65 ref, because: fins, outline: " + outline.File + "}]"},
			{Op: "put", At: at("enlarge.ratio"), Text: "2"},
		},
	})
	sheet := get[server.ReferenceSheet](b, "./reference")
	if sheet.Photo == nil || sheet.Photo.Width == 0 || len(sheet.Photo.Marks) != len(marks.Marks) || sheet.Photo.RMS <= 0 {
		t.Fatalf("photograph = %+v after %+v", sheet.Photo, done)
	}
	if len(sheet.Profile) < 100 || sheet.Length.Value < 218 || sheet.Length.Value > 219 || sheet.Worst == nil {
		t.Errorf("measured: %d places, %+v, %+v", len(sheet.Profile), sheet.Length, sheet.Worst)
	}
	// The rocket lies from 10 cm along the mat: the edges seen are as far apart, by the
	// marks' own scale, as the profile is wide there. Parallax makes them some per cent
	// more: the body stands off the mat.
	if len(sheet.Photo.Edges) != 2 {
		t.Fatalf("%d sides", len(sheet.Photo.Edges))
	}
	scale := math.Hypot(marks.Marks[0].Px[0]-marks.Marks[2].Px[0], marks.Marks[0].Px[1]-marks.Marks[2].Px[1]) /
		math.Hypot(marks.Marks[0].Mm[0]-marks.Marks[2].Mm[0], marks.Marks[0].Mm[1]-marks.Marks[2].Mm[1])
	for _, station := range []float64{80, 100, 130, 160} {
		one, two := near(sheet.Photo.Edges[0], station), near(sheet.Photo.Edges[1], station)
		wide := math.Hypot(one.Px[0]-two.Px[0], one.Px[1]-two.Px[1]) / scale
		k := slices.IndexFunc(sheet.Profile, func(p server.ProfilePoint) bool { return p.Station >= station })
		if r := 2 * sheet.Profile[k].Radius; wide < r || wide > 1.15*r {
			t.Errorf("at %v the edges lie %.1f mm apart on the mat, the profile is %.1f mm wide", station, wide, r)
		}
	}
	typed := get[server.Outlines](b, "./outlines").Outlines
	if k := slices.IndexFunc(typed, func(o server.TypedOutline) bool { return o.File == outline.File }); k < 0 || len(typed[k].Path) != len(tail.Path) {
		t.Errorf("outlines = %+v", typed)
	}

	// Marks that are picked anew go under a name of their own; undo finds the old ones.
	marks.Marks = marks.Marks[:8]
	if again := send[server.Stored](b, "PUT", "./marks/rocket.jpg", marks); again.File == stored.File {
		t.Errorf("%s was overwritten", again.File)
	}
	if again := send[server.PhotoPut](b, "PUT", "./photos/rocket.jpg", photo); again.File != put.File {
		t.Errorf("the same photograph is stored twice, as %s", again.File)
	}
	b.refused(404, "PUT", "./marks/none.jpg", marks)
	b.refused(422, "PUT", "./outlines/..%2Fx", tail)
}

// near is the edge point nearest to a station.
func near(side []server.EdgePoint, station float64) server.EdgePoint {
	return slices.MinFunc(side, func(a, b server.EdgePoint) int {
		return cmp.Compare(math.Abs(a.Station-station), math.Abs(b.Station-station))
	})
}

func at(path string) server.Place { return server.Place{File: build.BuildFile, Path: path} }

func TestCutsAreAccepted(t *testing.T) {
	b := newBench(t)
	var cut server.Handle
	for _, h := range get[server.Handles](b, "./handles").Handles {
		if h.Provisional {
			cut = h
		}
	}
	if cut.Part == "" {
		t.Fatal("the spindle has no computed cut")
	}
	done := send[server.Edited](b, "POST", "./cuts", server.NewCuts{
		Base: version(b), Wait: 60_000, Cuts: []server.NewCut{{Part: cut.Part, Station: cut.Value + 5}},
	})
	if done.Name != "accept c1" || declared(b, "cuts.c1.part") != cut.Part {
		t.Errorf("accepted: %+v, %s", done, declared(b, "cuts.c1.part"))
	}
	for _, h := range get[server.Handles](b, "./handles").Handles {
		if h.Provisional && h.Part == cut.Part {
			t.Errorf("still computed: %+v", h)
		}
		if h.At.Path == "cuts.c1.at" && (h.Value != cut.Value+5 || h.Kind != "station") {
			t.Errorf("handle of the cut: %+v", h)
		}
	}
}

func TestStopAndGoOn(t *testing.T) {
	b := newBench(t)
	get[server.VerdictSheet](b, "./verdict")
	s := b.listen()
	e := edit(version(b), "enlarge.ratio", "4.7")
	e.Wait = 0
	send[server.Edited](b, "POST", "./edits", e)
	send[server.AsOf](b, "POST", "./stop", map[string]string{})
	s.until("derived")
	board := get[server.Board](b, ".")
	if board.Run.Running {
		t.Errorf("it still runs: %+v", board.Run)
	}
	if board.AsOf.Stale { // the run may have been faster
		send[server.AsOf](b, "POST", "./run", map[string]string{})
		s.until("derived")
	}
	if board := get[server.Board](b, "."); board.AsOf.Stale || board.Ratio != 4.7 || board.Trouble != nil {
		t.Errorf("at the end: %+v, ratio %v, %+v", board.AsOf, board.Ratio, board.Trouble)
	}
}
