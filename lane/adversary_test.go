package lane_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/lane/lanetest"
	"scalewright/model"
	"scalewright/unit"
)

// written is the scene as SVG; it fails where a writer refuses it.
func written(t *testing.T, what string, s *drawing.Scene) string {
	t.Helper()
	var svg bytes.Buffer
	if err := drawing.SVG(&svg, s, drawing.SVGOptions{}); err != nil {
		t.Errorf("%s: %v", what, err)
	}
	for _, bad := range []string{"NaN", "Inf"} {
		if strings.Contains(svg.String(), bad) {
			t.Errorf("%s: %s in the drawing", what, bad)
		}
	}
	return svg.String()
}

// Whatever the view, a lane is a drawing: spans outside the build, without length,
// backwards or not numbers, paper too narrow or too wide.
func TestOddViews(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, p := range map[string]*lane.Prepared{
		"rocket": prepared(t, "foyer-rocket"), "letters": prepared(t, "letters"), "many": lane.Prepare(lanetest.Many(30)), "empty": lane.Prepare(job.Result{}),
	} {
		for _, from := range []float64{-1e5, 5000, 650, nan, inf} {
			for _, long := range []float64{0, 1e-6, 0.5, 1400, 1e7, -3, nan} {
				for _, wide := range []float64{10, 25, 300, 4000, 1e6, nan} {
					if name != "rocket" && (wide == 4000 || long == -3) {
						continue // time: these concern the view alone
					}
					v := lane.View{
						Span:  model.Span{From: unit.Length(from), To: unit.Length(from + long)},
						Width: wide, HasPlumb: true, Plumb: unit.Length(from + long/3), Selected: "body.foot.+1",
					}
					for _, l := range lane.All() {
						what := fmt.Sprintf("%s, %s from %v, %v long on %v mm", name, l.ID, from, long, wide)
						written(t, what, l.Draw(p, v))
						l.Read(p, v)
					}
					written(t, name+" axis", lane.Axis(p, v))
				}
			}
		}
	}
}

// An empty result gives one sentence a lane, of what would fill it.
func TestEmptyLanesSayWhatWouldFillThem(t *testing.T) {
	p := lane.Prepare(job.Result{})
	for _, l := range lane.All() {
		s := l.Draw(p, lane.View{Span: model.Span{To: 100}, Width: 300})
		texts := lanetest.Lettering(s)
		if len(texts) != 1 || !strings.HasSuffix(texts[0].Spans[0].Text, ".") {
			t.Errorf("%s says %v", l.ID, texts)
		}
		if len(l.Table(p, unit.Metric).Rows) != 0 {
			t.Errorf("%s has rows of nothing", l.ID)
		}
	}
}

// long names, letters from right to left, and a crowd of findings at one place.
func crowded(t *testing.T) *lane.Prepared {
	r := prepared(t, "foyer-rocket").Result
	r.Division.Pieces = append([]model.Piece(nil), r.Division.Pieces...)
	for i := range r.Division.Pieces {
		switch i % 3 {
		case 0:
			r.Division.Pieces[i].Name = "abcdefghijklmnopqrstuvwxyz-12345"
		case 1:
			r.Division.Pieces[i].Name = "זנב הטיל (עליון) 2 מתוך 3"
		}
	}
	r.Findings = nil
	for k := range 40 {
		code := finding.Code("overhang")
		f := finding.New(code, finding.Place{}, finding.Args{"piece": finding.Name(fmt.Sprint("piece ", k)), "area": finding.Number(float64(k))})
		f.Severity = finding.Severity(k % 3)
		r.Findings.Add(f.AtStation(unit.Length(600)))
	}
	for k := range 12 {
		f := finding.New("overhang", finding.Place{}, finding.Args{"piece": finding.Name("near"), "area": finding.Number(1)})
		f.Severity = finding.Blocker
		r.Findings.Add(f.AtStation(unit.Length(500 + 20*k)))
	}
	r.Findings = r.Findings.Sorted()
	return lane.Prepare(r)
}

func TestCrowd(t *testing.T) {
	p := crowded(t)
	views(p, []float64{900}, 300, func(v lane.View) {
		for _, l := range lane.All() {
			s := l.Draw(p, v)
			written(t, l.ID, s)
			if bad := meets(s); bad != "" {
				t.Errorf("%s, %v to %v: %s", l.ID, v.Span.From, v.Span.To, bad)
			}
		}
	})
	// All forty are said, whatever is drawn: by pennants and a count, and in the table.
	v := lane.View{Span: p.Span, Width: 300}
	svg := written(t, "elevation", lane.Elevation(p, v))
	if !strings.Contains(svg, ">+") || strings.Count(svg, `class="flag"`) < 2 {
		t.Error("no count of what has no pennant")
	}
	at600 := 0
	for _, row := range lane.ElevationTable(p, unit.Metric).Rows {
		if row[1] == "600 mm" && strings.Contains(row[0], "angs over") {
			at600++
		}
	}
	if at600 == 0 {
		t.Error("the table has no finding")
	}
}

// Flags tell their grades: filled, half, open; the lower grade keeps its pennant
// where it gives its sentence away.
func TestFlags(t *testing.T) {
	r := prepared(t, "foyer-rocket").Result
	r.Risks = nil
	r.Findings = nil
	for k, severity := range []finding.Severity{finding.Note, finding.Blocker, finding.Caution} {
		f := finding.New("overhang", finding.Place{}, finding.Args{"piece": finding.Name(severity.String()), "area": finding.Number(1)})
		f.Severity = severity
		r.Findings.Add(f.AtStation(unit.Length(600 + k)))
	}
	s := lane.Elevation(lane.Prepare(r), lane.View{Span: lane.Whole(r), Width: 300})
	var drawer, plain int
	for _, it := range s.Items {
		if g, ok := it.(drawing.Group); ok && g.Class == "flag" {
			gave := false
			for _, d := range g.Data {
				gave = gave || d[0] == "drawer"
			}
			if gave {
				drawer++
			} else {
				plain++
				if !strings.HasPrefix(g.Title, "blocker") {
					t.Errorf("the sentence beside the pole is of %q", g.Title)
				}
			}
		}
	}
	if plain != 1 || drawer != 1 { // two pennants on the pole, the third counted
		t.Errorf("%d flags have their sentence, %d gave it to the drawer", plain, drawer)
	}
}

// The same bytes twice, drawn at the same time from one Prepared.
func TestSameBytes(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	v := lane.View{Span: p.Span, Width: 300, HasPlumb: true, Plumb: 588}
	var first, second [16]string
	var wait sync.WaitGroup
	for i, l := range lane.All() {
		for _, into := range []*[16]string{&first, &second} {
			wait.Go(func() {
				var b bytes.Buffer
				if err := drawing.SVG(&b, l.Draw(p, v), drawing.SVGOptions{}); err == nil {
					into[i] = b.String()
				}
			})
		}
	}
	wait.Wait()
	for i, l := range lane.All() {
		if first[i] == "" || first[i] != second[i] {
			t.Errorf("%s is drawn in two ways", l.ID)
		}
	}
	again := lane.Prepare(p.Result)
	var b bytes.Buffer
	if err := drawing.SVG(&b, lane.Elevation(again, v), drawing.SVGOptions{}); err != nil || b.String() != first[0] {
		t.Error("a result prepared again is drawn in another way")
	}
}

// Mass is neither lost nor made: below everything lies nothing, above it all, and
// it never falls on the way up; its middle is the structure's.
func TestWeightAddsUp(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	read := func(at float64) string {
		return lane.All()[5].Read(p, lane.View{Span: model.Span{From: -500, To: 2000}, Width: 300, HasPlumb: true, Plumb: unit.Length(at)}).Here
	}
	if got := read(-400); got != "0 g stands below" {
		t.Errorf("under the build %s", got)
	}
	want := fmt.Sprintf("%.1f kg stands below", p.Structure.Total.X/1000)
	if got := read(1900); got != want {
		t.Errorf("over the build %s, want %s", got, want)
	}
}

// Every mark has an id of its own and the stations it stands at.
func TestMarksAreAnchored(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	v := lane.View{Span: p.Span, Width: 300}
	for _, l := range lane.All() {
		seen := map[string]bool{}
		marks := 0
		for _, it := range l.Draw(p, v).Items {
			g, ok := it.(drawing.Group)
			if !ok || len(g.Data) == 0 {
				continue
			}
			marks++
			if g.ID == "" || g.Title == "" || seen[g.ID] || g.Data[0][0] != "from" || g.Data[1][0] != "to" {
				t.Errorf("%s has a mark %+v", l.ID, g)
			}
			seen[g.ID] = true
		}
		if marks == 0 {
			t.Errorf("%s has no marks", l.ID)
		}
	}
}
