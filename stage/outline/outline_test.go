package outline_test

import (
	"context"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/outline"
)

func ExampleRun() {
	trace, found, err := outline.Run(context.Background(), outline.Input{Path: model.Lines(0, 9, 14, 6, 14, 16, 30, 16), DoubtMM: 0.05})
	fmt.Printf("%v ± %v mm long, %d stations, %v %v\n", trace.Length.X, trace.Length.U, len(trace.Profile), found, err)
	// Output: 30 ± 0.05 mm long, 31 stations, [] <nil>
}

func TestTroubles(t *testing.T) {
	at := finding.Place{File: "outlines/o.yaml", Path: "path"}
	bad := model.Outline{{Kind: model.Arc, From: model.Point{Radius: 9}, To: model.Point{Station: 9}, R: 3}}
	for _, c := range []struct {
		code finding.Code
		o    model.Outline
	}{
		{"outline-crosses", model.Lines(0, 9, 60, 9, 20, 14, 20, 4)},
		{"outline-runs-back", model.Lines(0, 9, 60, 9, 50, 12, 80, 12)},
		{"outline-below-axis", model.Lines(0, 9, 60, -9)},
		{"outline-arc-off", bad},
		{"outline-too-short", nil},
		{"outline-too-short", model.Lines(5, 1, 5, 9)},
		{"outline-no-width", model.Lines(0, 0, 60, 0)},
	} {
		trace, found, err := outline.Run(context.Background(), outline.Input{Path: c.o, At: at})
		if err != nil || len(found) != 1 || found[0].Code != c.code || found[0].At != at || trace.Outline != nil {
			t.Errorf("%s: %v, %v", c.code, found, err)
			continue
		}
		if text := (finding.Writer{}).Message(found[0]); text == "" {
			t.Errorf("%s says nothing", c.code)
		}
	}
}

func TestProfileIsAtMostAMillimetreApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(0.01, 300).Draw(t, "length")
		start := rapid.Float64Range(-50, 50).Draw(t, "start")
		o := model.Lines(start, 9, start+length, 4)
		trace, found, err := outline.Run(context.Background(), outline.Input{Path: o, DoubtMM: 0.1})
		if err != nil || len(found) != 0 {
			t.Fatalf("%v, %v", found, err)
		}
		p := trace.Profile
		if p[0].Station != start || p[len(p)-1].Station != o.End() {
			t.Errorf("profile runs from %v to %v, want %v to %v", p[0].Station, p[len(p)-1].Station, start, o.End())
		}
		for i, q := range p {
			if i > 0 && (q.Station <= p[i-1].Station || q.Station-p[i-1].Station > 1+1e-9) {
				t.Errorf("stations %v and %v", p[i-1].Station, q.Station)
			}
			if q.Radius.X != o.RadiusAt(q.Station) || q.Radius.U != 0.1 {
				t.Errorf("at %v: %v", q.Station, q.Radius)
			}
		}
	})
}
