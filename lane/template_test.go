package lane_test

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// boxes are the extents of the paths of a scene, largest first.
func boxes(s *drawing.Scene) (out []drawing.Rect) {
	for _, item := range s.Items {
		if d, ok := item.(drawing.Drawn); ok {
			out = append(out, d.Path.Bounds())
		}
	}
	return out
}

func template(t *testing.T, r job.Result, name string) lane.Template {
	t.Helper()
	for _, c := range lane.Templates(r, unit.Metric) {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("no template %s", name)
	return lane.Template{}
}

// Strips are as long as what they lie on: 2πr round a seam, the core's own
// length along it.
func TestStripsAreFullSize(t *testing.T) {
	r := result(t)
	for _, s := range r.Division.Seams {
		c := template(t, r, "seam-"+s.ID)
		want := 2 * math.Pi * r.Design.Outline.RadiusAt(float64(s.Station))
		if s.ID == "neck-tip" {
			want = 2 * math.Pi * 36 // the neck ends in a step from 36 down to 32
		}
		longest := 0.0
		for _, b := range boxes(c.Scene) {
			longest = max(longest, b.W)
		}
		if math.Abs(longest-want) > 1e-9 {
			t.Errorf("strip of %s is %v long, want %v", s.ID, longest, want)
		}
	}
	longest := 0.0
	for _, b := range boxes(template(t, r, "core").Scene) {
		longest = max(longest, b.W)
	}
	if want := float64(r.Design.Core.Span.Length()); longest != want {
		t.Errorf("core strip is %v long, want %v", longest, want)
	}
}

// The check bar is 100 mm on every template, and each can be written.
func TestTemplatesCanBeWritten(t *testing.T) {
	r := result(t)
	r.Design.Openings = []model.Opening{{ID: "hole", Part: "vase", Station: 120, Across: 20}, {ID: "hatch", Part: "vase", Station: 120, Wide: 30, High: 40}}
	all := lane.Templates(r, unit.Metric)
	if len(all) != 1+len(r.Division.Seams)+2 {
		t.Errorf("%d templates", len(all))
	}
	for _, c := range all {
		var svg bytes.Buffer
		if err := drawing.SVG(&svg, c.Scene, drawing.SVGOptions{}); err != nil || !strings.Contains(svg.String(), "check-bar") {
			t.Errorf("%s: %v", c.Name, err)
		}
		for _, b := range boxes(c.Scene) {
			if b.X < 0 || b.Y < 0 || b.X+b.W > c.Scene.Width || b.Y+b.H > c.Scene.Height {
				t.Errorf("%s: %v runs off its paper of %v by %v", c.Name, b, c.Scene.Width, c.Scene.Height)
			}
		}
	}
}

// The rim of a hole, rolled out, has the width of the arc that the hole spans: a
// hole as wide as the body reaches half way round it.
func TestRolledOutHole(t *testing.T) {
	r := result(t)
	radius := r.Design.Outline.RadiusAt(120)
	for _, c := range []struct{ across, want float64 }{{2 * radius, math.Pi * radius}, {radius, 2 * radius * math.Pi / 6}} {
		r.Design.Openings = []model.Opening{{ID: "hole", Part: "vase", Station: 120, Across: unit.Length(c.across)}}
		rim := boxes(template(t, r, "opening-hole").Scene)
		found := false
		for _, b := range rim {
			found = found || math.Abs(b.W-c.want) < 1e-6 && math.Abs(b.H-c.across) < 1e-6
		}
		if !found {
			t.Errorf("a hole of %v in a body of radius %v: rims %v, want %v wide", c.across, radius, rim, c.want)
		}
	}
}

// An empty result has no templates.
func TestNoTemplates(t *testing.T) {
	if all := lane.Templates(job.Result{}, unit.Metric); len(all) > 0 {
		t.Errorf("%d templates of nothing", len(all))
	}
}

// A fin's outline has its size, and seams that it crosses name it.
func TestFinTemplate(t *testing.T) {
	in := job.Input{
		Declared: model.Declared{
			Name: "Dart", Reference: model.DeclaredReference{Outline: "o"}, Enlarge: model.DeclaredEnlarge{Ratio: 2},
			Parts: []model.DeclaredPart{
				{ID: "low", From: unit.Ref(0), To: unit.Ref(40), Wall: unit.Shop(3)},
				{ID: "high", From: unit.Ref(40), To: unit.Ref(80), Wall: unit.Shop(3)},
				{ID: "fin", Form: model.Flat, Lie: model.Along, Outline: "f", Thick: unit.Shop(4), Clockings: []float64{math.Pi / 2}},
			},
			Calendar: model.DeclaredCalendar{Start: "2026-11-30"}, Shop: result(t).Design.Shop,
		},
		Outlines: map[string]model.DeclaredOutline{
			"o": {Path: model.Lines(0, 20, 80, 20)},
			"f": {Owner: unit.OfReference, Closed: true, Path: model.Lines(20, 15, 60, 15, 60, 45, 20, 15)},
		},
	}
	r, err := job.Run(context.Background(), in)
	if err != nil || r.Blocked() {
		t.Fatal(err, r.Findings)
	}
	named := false
	for _, item := range template(t, r, "seam-low-high").Scene.Items {
		if w, ok := item.(drawing.Text); ok && w.String == "fin" {
			named = true
		}
	}
	if !named {
		t.Error("the seam's strip does not name the fin that crosses it")
	}
	found := false
	for _, c := range lane.Templates(r, unit.Metric) {
		if strings.HasPrefix(c.Name, "flat-fin") {
			for _, b := range boxes(c.Scene) {
				found = found || math.Abs(b.W-80) < 0.1 && b.H > 30
			}
		}
	}
	if !found {
		t.Error("no outline of the fin at full size")
	}
}
