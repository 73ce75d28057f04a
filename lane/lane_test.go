package lane_test

import (
	"bytes"
	"context"
	"math"
	"strconv"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// spindle is a bored spindle of our invention in four parts.
var spindle = sync.OnceValues(func() (job.Result, error) {
	o := model.Lines(0, 8, 10, 8, 10, 6, 30, 11, 45, 6, 60, 9, 80, 9, 80, 8, 90, 4)
	part := func(id string, from, to float64) model.DeclaredPart {
		return model.DeclaredPart{ID: id, From: unit.Ref(from), To: unit.Ref(to), Wall: unit.Shop(3), Filament: "white"}
	}
	return job.Run(context.Background(), job.Input{
		Declared: model.Declared{
			Name: "Spindle", Reference: model.DeclaredReference{Outline: "o"}, Enlarge: model.DeclaredEnlarge{Ratio: 4},
			Core:     &model.DeclaredCore{Stock: "pressure-20", From: unit.Ref(0), To: unit.Ref(88), Hold: model.Bored},
			Parts:    []model.DeclaredPart{part("foot", 0, 10), part("vase", 10, 45), part("neck", 45, 80), part("tip", 80, 90)},
			Calendar: model.DeclaredCalendar{Start: "2026-11-30"},
			Shop: model.Shop{
				Printers: []model.Printer{{
					ID: "wren", Name: "Wren", Build: [3]unit.Length{220, 220, 250}, Margin: 5,
					Nozzle: 0.4, Layer: 0.3, Line: 0.45, Speed: 100, Accel: 2000, Flow: 11,
					Calibrated: model.Calibration{Measured: true},
				}},
				Filaments: []model.Filament{{ID: "white", Material: "PLA", Spool: 1000}},
				People:    []model.Person{{ID: "maker", Hours: []model.OpenTime{{From: 600, To: 1200}}}},
			},
		},
		Outlines: map[string]model.DeclaredOutline{"o": {Path: o, DoubtMM: 0.05}},
	})
})

func result(t testing.TB) job.Result {
	t.Helper()
	r, err := spindle()
	if err != nil || r.Findings.Count(finding.Blocker) > 0 {
		t.Fatalf("the spindle: %v, %v", err, r.Findings)
	}
	return r
}

// Every lane has a drawing of the view's width, one line when folded, and a
// table with as many cells in each row as heads; an empty result gives a
// sentence and no panic.
func TestLanes(t *testing.T) {
	r := result(t)
	for _, l := range lane.All() {
		for name, c := range map[string]struct {
			r      job.Result
			folded bool
		}{"open": {r, false}, "folded": {r, true}, "empty": {job.Result{}, false}} {
			v := lane.View{Span: lane.Whole(c.r), Width: 300, Folded: c.folded}
			s := l.Draw(lane.Prepare(c.r), v)
			var svg bytes.Buffer
			if err := drawing.SVG(&svg, s, drawing.SVGOptions{}); err != nil {
				t.Errorf("%s, %s: %v", l.ID, name, err)
			}
			if s.Width != v.Width || (name != "open" && s.Height > 8) {
				t.Errorf("%s, %s is %v by %v", l.ID, name, s.Width, s.Height)
			}
		}
		table := l.Table(lane.Prepare(r), unit.Metric)
		if len(table.Rows) == 0 && l.ID != "lights" && l.ID != "error" && l.ID != "finish" { // it has none of these
			t.Errorf("%s has an empty table", l.ID)
		}
		for _, row := range table.Rows {
			if len(row) != len(table.Columns) || table.Caption == "" {
				t.Errorf("%s: %d cells under %d heads of %q", l.ID, len(row), len(table.Columns), table.Caption)
			}
		}
	}
}

// The same station lies at the same place in every lane: outline, boxes and
// walls agree with the view's X.
func TestOneAxis(t *testing.T) {
	r := result(t)
	v := lane.View{Span: lane.Whole(r), Width: 300}
	if got := v.X(v.Span.From); got != lane.Pad {
		t.Errorf("the first station lies at %v", got)
	}
	if got := v.X(v.Span.To); math.Abs(got-(v.Width-lane.Pad)) > 1e-9 {
		t.Errorf("the last station lies at %v", got)
	}
	boxes := map[string]drawing.Rect{}
	id := ""
	for _, item := range lane.Pieces(lane.Prepare(r), v).Items {
		switch item := item.(type) {
		case drawing.Group:
			id = item.ID
		case drawing.Drawn:
			if _, seen := boxes[id]; !seen {
				boxes[id] = item.Path.Bounds()
			}
		}
	}
	for _, p := range r.Division.Pieces {
		b := boxes["print-"+p.ID.String()]
		const line = 0.2 // kept free between two boxes
		if math.Abs(b.X-line-v.X(p.Span.From)) > 1e-9 || math.Abs(b.X+b.W+line-v.X(p.Span.To)) > 1e-9 {
			t.Errorf("%s stands from %v to %v, its stations at %v and %v", p.Name, b.X, b.X+b.W, v.X(p.Span.From), v.X(p.Span.To))
		}
	}
}

func TestViewScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := unit.Length(rapid.Float64Range(-1e4, 1e4).Draw(t, "from"))
		span := model.Span{From: from, To: from + unit.Length(rapid.Float64Range(1, 1e4).Draw(t, "length"))}
		scale := rapid.Float64Range(0.01, 2).Draw(t, "scale")
		scale = min(scale, 8000/float64(span.Length())) // no paper is wider
		v := lane.View{Span: span, Width: lane.WidthAt(span, scale)}
		if math.Abs(v.Scale()-scale) > 1e-9*scale+1e-12 {
			t.Fatalf("scale %v comes back as %v", scale, v.Scale())
		}
	})
	if s := (lane.View{Width: 100}).Scale(); s != 0 {
		t.Errorf("a view of nothing has scale %v", s)
	}
}

func TestReduction(t *testing.T) {
	for _, c := range []struct {
		least float64
		want  string
	}{{3.746, "1:4"}, {4, "1:4"}, {4.01, "1:5"}, {0.3, "2:1"}, {9.3, "1:10"}, {0.95, "1:1"}, {2.2, "1:2.5"}, {130, "1:200"}, {901, "1:1000"}, {12_345, "1:12400"}} {
		if got := lane.ScaleText(lane.Reduction(c.least)); got != c.want {
			t.Errorf("at least %v gives %s, want %s", c.least, got, c.want)
		}
	}
}

func TestScaleText(t *testing.T) {
	for n, want := range map[float64]string{1: "1:1", 1000: "1:1000", 2.5: "1:2.5", 0.2: "5:1", 1.0 / 1024: "1020:1", 1e6: "1:1000000", 3.3333: "1:3.33"} {
		if got := lane.ScaleText(n); got != want {
			t.Errorf("ScaleText(%v) = %s, want %s", n, got, want)
		}
	}
}

// A piece's half-section and a standing figure fit the room they are given, at
// any room.
func TestFiguresFit(t *testing.T) {
	r := result(t)
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(110, 300).Draw(t, "width")
		h := rapid.Float64Range(70, 280).Draw(t, "height")
		i := rapid.IntRange(0, len(r.Prints)-1).Draw(t, "piece")
		if s, n := lane.HalfSection(r, i, w, h, unit.Metric); s.Height > h+1e-9 || s.Width > w || n <= 0 {
			t.Fatalf("half-section is %v by %v at 1:%v in %v by %v", s.Width, s.Height, n, w, h)
		}
		if s, n := lane.Standing(r, w, h, unit.FeetInches); s.Height > h+1e-9 || s.Width > w || n <= 0 {
			t.Fatalf("standing figure is %v by %v at 1:%v in %v by %v", s.Width, s.Height, n, w, h)
		}
	})
}

func TestPersonStandsBesideWhatIsNeitherSmallNorLarge(t *testing.T) {
	r := result(t)
	for ratio, want := range map[float64]bool{1: false, 4: true, 12: false} { // 360, 1440, 4320 mm
		big := r
		big.Design.Outline = r.Design.Outline.Scaled(ratio)
		s, _ := lane.Standing(big, 100, 150, unit.Metric)
		got := false
		for _, item := range s.Items {
			if g, ok := item.(drawing.Group); ok && g.ID == "person" {
				got = true
			}
		}
		if got != want {
			t.Errorf("%s mm: a person beside it %v, want %v", strconv.FormatFloat(360*ratio, 'f', 0, 64), got, want)
		}
	}
}

// The elevation says every length it dimensions, and each item has its ball.
func TestArrangementNumbersEveryPiece(t *testing.T) {
	r := result(t)
	v := lane.View{Span: lane.Whole(r), Width: 300}
	texts := map[string]int{}
	for _, item := range lane.Arrangement(lane.Prepare(r), v).Items {
		if line, ok := item.(drawing.Text); ok {
			texts[line.String]++
		}
	}
	for i, p := range r.Division.Pieces {
		if texts[strconv.Itoa(i+1)] == 0 {
			t.Errorf("item %d has no ball", i+1)
		}
		if texts[unit.Metric.Figure(p.Span.Length())] == 0 {
			t.Errorf("%s has no length", p.Name)
		}
	}
	if texts["360"] != 1 {
		t.Errorf("the overall length stands %d times", texts["360"])
	}
}
