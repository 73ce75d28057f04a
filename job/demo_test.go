package job_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"scalewright/build"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
)

// demoMemo remembers the photograph, whose measuring takes longest, between tests.
var demoMemo = recipe.NewMemo(recipe.Options{})

// demo loads the Foyer rocket as make does.
func demo(t *testing.T) job.Input {
	t.Helper()
	f, err := build.Open("../examples/foyer-rocket")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	return job.Input{
		Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks,
		Outlines: l.Outlines, Models: l.Files, Memo: demoMemo, Seed: 1,
	}
}

// drawn is the rocket as it was drawn before it was photographed, mm of the
// reference: the truth beside the photograph.
type drawn struct {
	Object struct {
		Segments []struct {
			S0, R0, S1, R1 float64
		} `json:"segments"`
		Dense struct {
			Step   float64   `json:"step_mm"`
			Radius []float64 `json:"radius_mm"`
		} `json:"profile_dense"`
	} `json:"object"`
}

// The fins span stations 8 to 62; their ends and every step are left out by 3 mm
// either side, and so are the stations that were typed.
func TestDemoProfileIsTheRockets(t *testing.T) {
	text, err := os.ReadFile("../../shared/data/photos/ex1_rocket.json")
	if err != nil {
		t.Skip("the truth beside the photograph is not on this machine: ", err)
	}
	var truth drawn
	if err := json.Unmarshal(text, &truth); err != nil {
		t.Fatal(err)
	}
	var steps []float64
	for _, s := range truth.Object.Segments {
		if s.S0 == s.S1 {
			steps = append(steps, s.S0)
		}
	}
	r, err := job.Run(t.Context(), demo(t))
	if err != nil || r.Blocked() {
		t.Fatal(err, r.Findings)
	}
	const clear = 3.0
	inside, total, worst := 0, 0, 0.0
	var doubts []float64
	for _, p := range r.Trace.Profile {
		if p.Station > 8-clear && p.Station < 62+clear {
			continue
		}
		if slices.ContainsFunc(steps, func(s float64) bool { return math.Abs(s-p.Station) < clear }) {
			continue
		}
		typed := false
		for _, h := range r.Trace.Typed {
			typed = typed || h.From <= p.Station && p.Station <= h.To
		}
		if typed {
			continue
		}
		x := p.Station / truth.Object.Dense.Step
		i := int(x)
		if i+1 >= len(truth.Object.Dense.Radius) {
			continue
		}
		want := truth.Object.Dense.Radius[i] + (x-float64(i))*(truth.Object.Dense.Radius[i+1]-truth.Object.Dense.Radius[i])
		off := math.Abs(p.Radius.X - want)
		total++
		worst = max(worst, off)
		if off <= 2*p.Radius.U {
			inside++
		}
		doubts = append(doubts, 2*p.Radius.U)
	}
	slices.Sort(doubts)
	share, median := float64(inside)/float64(total), doubts[len(doubts)/2]
	t.Logf("%d stations: worst %.3f mm, inside ±2u at %.1f %%, median 2u %.3f mm, length %.2f", total, worst, 100*share, median, r.Trace.Length.X)
	if total < 100 {
		t.Errorf("only %d stations left to judge", total)
	}
	if worst > 0.2 {
		t.Errorf("worst station is %v mm off, want within 0.2", worst)
	}
	// What error is left is common to all stations of a photograph: they lie inside
	// together. That doubts are not too wide is told by their size.
	if share < 0.90 {
		t.Errorf("truth lies inside ±2u at %v of stations, want 0.90", share)
	}
	// Of it 0.09 is what no difference of sides shows.
	if median > 0.12 {
		t.Errorf("median 2u is %v mm, want at most 0.12", median)
	}
}

// A clean build nags little, and what was measured can be turned.
func TestDemoIsClean(t *testing.T) {
	r, err := job.Run(t.Context(), demo(t))
	if err != nil {
		t.Fatal(err)
	}
	if r.Blocked() {
		t.Fatal(r.Findings)
	}
	if trouble, at := r.Trace.Outline.Trouble(); trouble != "" {
		t.Errorf("the measured outline %s at %v", trouble, at)
	}
	hidden := 0
	for _, f := range r.Findings {
		if f.Code == "outline-hidden" {
			hidden++
		}
	}
	if hidden != 3 {
		t.Errorf("%d stretches are said to be hidden, want the fins, the groove and the tip", hidden)
	}
	if across := r.Verdict.Across; math.Abs(float64(across)-252) > 1 {
		t.Errorf("%v across the body, want 252", across)
	}
	if long := r.Verdict.Overall; math.Abs(long.X-1311) > 2*long.U+1 {
		t.Errorf("%v overall, want 1311", long)
	}
}

// What is released is made as it lies in made/; the verdict names another piece.
func TestTonightIsNotAReleasedPiece(t *testing.T) {
	in := foyer()
	first, err := job.Run(t.Context(), in)
	if err != nil || first.Verdict.Tonight == "" {
		t.Fatal(err, "no piece for tonight")
	}
	in.Events = []model.Event{{Number: 1, Kind: model.Released, Piece: first.Verdict.Tonight, Label: "A1"}}
	then, err := job.Run(t.Context(), in)
	if err != nil || then.Verdict.Tonight == first.Verdict.Tonight {
		t.Errorf("tonight is %q again, %v", then.Verdict.Tonight, err)
	}
}

// The demo goes together: fins in their slots, nothing through anything.
func TestDemoAssembles(t *testing.T) {
	mustAssemble(t, mustRun(t, demo(t)))
}
