package measure_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/unit"
)

// truth is the part of a truth file that these tests read.
type truth struct {
	Mat struct {
		Pitch     float64 `json:"pitch_mm"`
		Suggested []struct {
			Mm [2]float64 `json:"printed_mm"`
			Px [2]float64 `json:"px"`
		} `json:"suggested_marks"`
	} `json:"mat"`
	Object struct {
		Length   float64 `json:"length_mm"`
		Start    float64 `json:"axis_height_start_mm"`
		End      float64 `json:"axis_height_end_mm"`
		Segments []struct {
			Kind string  `json:"type"`
			S0   float64 `json:"s0"`
			R0   float64 `json:"r0"`
			S1   float64 `json:"s1"`
			R1   float64 `json:"r1"`
		} `json:"segments"`
		Dense struct {
			Step   float64   `json:"step_mm"`
			Radius []float64 `json:"radius_mm"`
		} `json:"profile_dense"`
	} `json:"object"`
}

func load(t *testing.T, name string) ([]byte, truth) {
	t.Helper()
	dir := filepath.Join("..", "..", "..", "shared", "data", "photos")
	photo, err := os.ReadFile(filepath.Join(dir, name+".jpg"))
	if err != nil {
		t.Skipf("photograph not on this machine: %v", err)
	}
	raw, err := os.ReadFile(filepath.Join(dir, name+".json"))
	if err != nil {
		t.Skipf("truth file not on this machine: %v", err)
	}
	var tr truth
	if err := json.Unmarshal(raw, &tr); err != nil {
		t.Fatal(err)
	}
	return photo, tr
}

// loupe is the suggested marks as a loupe picks them: to a tenth of a pixel.
func (tr truth) loupe() model.Marks {
	out := model.Marks{PitchMM: tr.Mat.Pitch}
	for _, m := range tr.Mat.Suggested {
		out.Marks = append(out.Marks, model.Mark{
			Pixel: [2]float64{math.Round(m.Px[0]*10) / 10, math.Round(m.Px[1]*10) / 10}, Mat: m.Mm,
		})
	}
	return out
}

func (tr truth) at(s float64) float64 {
	x := s / tr.Object.Dense.Step
	k := int(x)
	if k+1 >= len(tr.Object.Dense.Radius) {
		return tr.Object.Dense.Radius[len(tr.Object.Dense.Radius)-1]
	}
	t := x - float64(k)
	return tr.Object.Dense.Radius[k]*(1-t) + tr.Object.Dense.Radius[k+1]*t
}

// clear reports whether a station lies 3 mm or more from every step and from
// both ends: a face is a step, and a round tip of 3 mm falls as steeply (0.04 mm
// of length make 0.5 mm of radius there).
func (tr truth) clear(s float64) bool {
	if s < 3 || s > tr.Object.Length-3 {
		return false
	}
	for _, g := range tr.Object.Segments {
		if math.Abs(g.S1-g.S0) < 1e-9 && math.Abs(g.S0-s) < 3 {
			return false
		}
	}
	return true
}

// score is how a result compares with the truth where it is to be compared.
type score struct {
	n                              int
	rms, max, coverage, median2U   float64
	length, uLength, start, finish float64
}

func compare(tr truth, r measure.Result, hidden [][2]float64) (s score) {
	var u []float64
	in := 0
	for _, p := range r.Profile {
		if p.Station > tr.Object.Length || !tr.clear(p.Station) || slices.ContainsFunc(hidden, func(h [2]float64) bool {
			return h[0]-3 <= p.Station && p.Station <= h[1]+3
		}) {
			continue
		}
		e := math.Abs(p.Radius - tr.at(p.Station))
		s.rms += e * e
		s.max = max(s.max, e)
		if e <= 2*p.U {
			in++
		}
		u = append(u, 2*p.U)
	}
	s.n = len(u)
	slices.Sort(u)
	s.rms = math.Sqrt(s.rms / float64(s.n))
	s.coverage = float64(in) / float64(s.n)
	s.median2U = u[len(u)/2]
	s.length, s.uLength = r.Length.Value-tr.Object.Length, r.Length.U
	s.start, s.finish = r.Axis.StartMM-tr.Object.Start, r.Axis.EndMM-tr.Object.End
	return s
}

// What is left of error here is common to all stations (height, slope, camera), so of one
// photograph they lie inside all together or not; whether the doubts are too wide is told
// over many (TestCoverageOverScenes), here by their size.

// The photograph alone, with nothing told but the marks: what the view cannot
// show must be found by itself.
func TestRocketFromMarks(t *testing.T) {
	photo, tr := load(t, "ex1_rocket")
	r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: tr.loupe()})
	if err != nil {
		t.Fatal(err)
	}
	if r.Lost {
		t.Fatalf("no profile: %v", list)
	}
	s := compare(tr, r, [][2]float64{{8, 62}})
	t.Logf("%+v", s)
	if s.n < 250 || s.max > 0.4 || s.rms > 0.1 || s.coverage < 0.90 || s.median2U > 0.12 {
		t.Errorf("profile outside its goals: %+v", s)
	}
	if math.Abs(s.length) > 2*s.uLength || s.uLength > 0.6 { // half of the nose lies on a printed line
		t.Errorf("length off by %.3f, u %.3f", s.length, s.uLength)
	}
	if math.Abs(s.start) > 1 || math.Abs(s.finish) > 1 {
		t.Errorf("axis height off by %.2f and %.2f mm", s.start, s.finish)
	}
	if !slices.ContainsFunc(list, func(f finding.Finding) bool { return f.Code == "outline-not-seen" }) {
		t.Error("nobody said that the fins hide the tail")
	}
	for k := 1; k < len(r.Profile); k++ {
		if d := r.Profile[k].Station - r.Profile[k-1].Station; d <= 0 || d > 1 {
			t.Fatalf("stations %.2f and %.2f", r.Profile[k-1].Station, r.Profile[k].Station)
		}
	}
	if first, last := r.Profile[0], r.Profile[len(r.Profile)-1]; first.Station != 0 || math.Abs(last.Station-r.Length.Value) > 1e-9 {
		t.Errorf("profile from %.3f to %.3f, length %.3f", first.Station, last.Station, r.Length.Value)
	}
}

// With what the maker knows besides: caliper length, and the tail under the fins.
func TestRocketTold(t *testing.T) {
	photo, tr := load(t, "ex1_rocket")
	tail := outlineOf([][2]float64{{5, 8.107}, {14, 6.5}, {14, 16}, {30, 21}, {65, 21}})
	r, list, err := measure.Run(t.Context(), measure.Input{
		Photo: photo, Marks: tr.loupe(), Datum: "left",
		Length: unit.Estimate(218.5, 0.2),
		Hidden: []measure.Hidden{{From: 5, To: 65, Because: "fins", Typed: tail, DoubtMM: 0.1}},
	})
	if err != nil {
		t.Fatal(err)
	}
	s := compare(tr, r, [][2]float64{{8, 62}})
	t.Logf("%+v", s)
	if s.max > 0.4 || s.rms > 0.1 || s.coverage < 0.90 || s.median2U > 0.12 || math.Abs(s.length) > 0.3 {
		t.Errorf("outside its goals: %+v", s)
	}
	if len(list) != 1 || list[0].Code != "outline-hidden" || list[0].Severity != finding.Note {
		t.Errorf("findings %v, want outline-hidden alone", list)
	}
	for _, p := range r.Profile {
		if p.Station >= 5 && p.Station <= 65 && math.Abs(p.Radius-tail.RadiusAt(p.Station)) > 1e-9 {
			t.Fatalf("station %.1f: radius %.3f, typed %.3f", p.Station, p.Radius, tail.RadiusAt(p.Station))
		}
	}
}

func outlineOf(path [][2]float64) (out model.Outline) {
	for i := 1; i < len(path); i++ {
		out = append(out, model.Segment{
			Kind: model.Line,
			From: model.Point{Station: path[i-1][0], Radius: path[i-1][1]},
			To:   model.Point{Station: path[i][0], Radius: path[i][1]},
		})
	}
	return out
}
