package book_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"scalewright/book"
	"scalewright/build"
	"scalewright/formats"
	"scalewright/job"
)

// derived are the examples with parts that are no stretch of a body, once for all
// tests.
var derived = sync.OnceValues(func() (map[string]job.Result, error) {
	out := map[string]job.Result{}
	for _, name := range []string{"angled-handle", "letters", "acorn"} {
		f, err := build.Open("../examples/" + name)
		if err != nil {
			return nil, err
		}
		l, err := f.Load()
		f.Close()
		if err != nil {
			return nil, err
		}
		r, err := job.Run(context.Background(), job.Input{
			Declared: l.Declared, Marks: l.Marks, Outlines: l.Outlines, Models: l.Files, Seed: 1,
		})
		if err != nil || r.Blocked() {
			return nil, fmt.Errorf("%s: %v, %w", name, r.Findings, err)
		}
		out[name] = r
	}
	return out, nil
})

func forms(t testing.TB) map[string]job.Result {
	t.Helper()
	all, err := derived()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// The page of a piece says of a flat one its length, width and thickness, of one
// turned on its own axis its own height and diameters, of a mesh its size as it
// stands; and none says that it stands on its foot where it lies.
func TestPagesOfForms(t *testing.T) {
	for _, c := range []struct {
		example, piece string
		says           []string
		not            string
	}{
		{"letters", "piece.a.foot.slice", []string{"126", "120", "9 mm thick", "its face", "lying flat", "126 by 120, 9 high"}, "⌀ "},
		{"letters", "piece.board.+1.slice", []string{"168", "180", "board 1 of 3", "board 3 of 3", "along its own line"}, "its foot"},
		{"angled-handle", "piece.handle.foot.nose", []string{"128", "⌀ 28", "⌀ 32", "solid", "its foot", "along its own line"}, "lying flat"},
		{"acorn", "piece.acorn.foot.slice", []string{"141", "bore", "core, beech dowel", "its foot", "194 by 150, 141 high"}, "lying flat"},
	} {
		found := false
		for _, p := range book.Pages(forms(t)[c.example], options()) {
			if p.ID != c.piece {
				continue
			}
			found = true
			text := words(p)
			for _, want := range c.says {
				if !strings.Contains(text, want) {
					t.Errorf("%s does not say %q: %s", c.piece, want, text)
				}
			}
			own, _, _ := strings.Cut(text, "What it joins")
			if strings.Contains(own, c.not) {
				t.Errorf("%s says %q", c.piece, c.not)
			}
		}
		if !found {
			t.Errorf("%s has no page", c.piece)
		}
	}
}

// Nothing of a body is said where there is none.
func TestNoBodyNoWordsOfIt(t *testing.T) {
	pages := book.Pages(forms(t)["letters"], options())
	for _, p := range pages {
		for _, no := range []string{"upper half outside", "Across the body", "on the radius", "NaN", "Inf"} {
			if strings.Contains(words(p), no) {
				t.Errorf("page %q says %q", p.ID, no)
			}
		}
	}
	if v := book.Say(forms(t)["letters"], 0); !strings.Contains(v.Words(), "at an edge") || v.Heading != "At 504 mm it can be made." {
		t.Errorf("the verdict says %q, %q", v.Heading, v.Words())
	}
}

// What report.json says brings each print file to its place in the build: there it
// takes the stations that the report says, and its frame's own axis is as declared.
func TestReportOfForms(t *testing.T) {
	for name, r := range forms(t) {
		files := written(t, r, options())
		var report struct {
			Parts []struct {
				ID    string         `json:"id"`
				Form  string         `json:"form"`
				Frame *[3][4]float64 `json:"frame"`
			} `json:"parts"`
			Pieces []struct {
				ID       string        `json:"id"`
				Own      bool          `json:"own_line"`
				ToBuild  [3][4]float64 `json:"to_build"`
				STL      string        `json:"stl"`
				Stations struct {
					From float64 `json:"from_mm"`
					To   float64 `json:"to_mm"`
				} `json:"stations_of_build"`
			} `json:"pieces"`
		}
		if err := json.Unmarshal(files["report.json"], &report); err != nil {
			t.Fatal(err)
		}
		own := 0
		for _, p := range report.Pieces {
			if !p.Own {
				continue
			}
			own++
			m, err := formats.ReadSTL(bytes.NewReader(files[p.STL]), formats.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			low, high := math.Inf(1), math.Inf(-1)
			for _, v := range m.Vertices {
				z := p.ToBuild[2][3]
				for k := range 3 {
					z += p.ToBuild[2][k] * v[k]
				}
				low, high = min(low, z), max(high, z)
			}
			if math.Abs(low-p.Stations.From) > 1e-3 || math.Abs(high-p.Stations.To) > 1e-3 {
				t.Errorf("%s, %s lies from %v to %v in the build, the report says %+v", name, p.ID, low, high, p.Stations)
			}
		}
		if own == 0 {
			t.Errorf("%s: no piece has a line of its own", name)
		}
		for _, p := range report.Parts {
			if (p.Form != "") != (p.Frame != nil) {
				t.Errorf("%s, %s: form %q, frame %v", name, p.ID, p.Form, p.Frame)
			}
			if p.ID == "handle" && (math.Abs(p.Frame[0][2]-math.Sin(35*math.Pi/180)) > 1e-6 || math.Abs(p.Frame[2][2]-math.Cos(35*math.Pi/180)) > 1e-6) {
				t.Errorf("the handle's frame is %v, and it leans 35°", p.Frame)
			}
		}
	}
}
