package foresee_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/foresee"
	"scalewright/unit"
)

func id(part string) model.PieceID {
	return model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose}
}

// two pieces of 3 and 9 hours, and one joint between them.
func two() foresee.Input {
	return foresee.Input{
		Parts: []model.Part{{ID: "a", At: finding.Place{File: "build.yaml", Path: "parts.a"}}, {ID: "b", At: finding.Place{File: "build.yaml", Path: "parts.b"}}},
		Pieces: []model.Piece{
			{ID: id("a"), Name: "a", Span: model.Span{From: 0, To: 100}}, {ID: id("b"), Name: "b", Span: model.Span{From: 100, To: 300}},
		},
		Prints: []model.Print{{Piece: id("a"), Minutes: 180}, {Piece: id("b"), Minutes: 540}},
		Fits: []model.Fit{{
			Seam: "a-b", Station: 100, Male: id("a").String(), Female: id("b").String(),
			Clearance: unit.Estimate(0.3, 0.1), Bind: 0.0013, Step: unit.Estimate(0, 0.15),
		}},
		Error:   model.ErrorAt{Station: 150, U: 0.5},
		Outline: model.Lines(0, 50, 300, 50),
	}
}

func run(t testing.TB, in foresee.Input) map[finding.Code]model.Risk {
	t.Helper()
	all, found, err := foresee.Run(context.Background(), in)
	if err != nil || len(found) > 0 {
		t.Fatalf("Run: %v, %v", found, err)
	}
	out := map[finding.Code]model.Risk{}
	last := math.Inf(1)
	for _, r := range all {
		if r.Expected() > last {
			t.Errorf("%s costs %v, more than the risk before it", r.What.Code, r.Expected())
		}
		last = r.Expected()
		out[r.What.Code] = r
	}
	return out
}

func ExampleRun() {
	risks, _, _ := foresee.Run(context.Background(), two())
	w := finding.Writer{}
	for _, r := range risks {
		fmt.Printf("%.2f h: %s\n", r.Expected(), w.Message(r.What))
	}
	// Output:
	// 2.86 h: at station 150 mm the radius may be off by 1 mm, and by more than an audience sees (0.5 mm) about 32 times in 100
	// 1.70 h: b fails in print about 13 times in 100, a guess until you log, and takes 9 h again
	// 0.04 h: at a-b one face stands more than 0.3 mm proud about 5 times in 100
	// 0.00 h: a will not go into b unsanded about 0.1 times in 100 (clearance 0.3 mm ± 0.2 mm)
}

// The standard normal distribution: 1 - 0.9545 lies outside two standard
// deviations, 1 - 0.6827 outside one (ISO 3534-1; any table).
func TestChancesAreNormal(t *testing.T) {
	in := two()
	risks := run(t, in)
	if got := risks["lip-may-show"].Chance; math.Abs(got-0.0455) > 5e-5 {
		t.Errorf("a lip of two standard uncertainties shows with chance %v, want 0.0455", got)
	}
	if got := risks["shape-may-be-off"].Chance; math.Abs(got-0.3173) > 5e-5 {
		t.Errorf("an error of one standard uncertainty shows with chance %v, want 0.3173", got)
	}
}

// The chance of a failure in h hours at the rate λ is 1 - exp(-λh); h hours
// without one follow each other as chances multiply.
func TestFailuresFollowPoisson(t *testing.T) {
	in := two()
	whole := run(t, in)["print-may-fail"].Chance
	in.Prints[0].Minutes, in.Prints[1].Minutes = 0, 270
	half := run(t, in)["print-may-fail"].Chance
	if math.Abs((1-half)*(1-half)-(1-whole)) > 1e-12 {
		t.Errorf("nine hours survive %v, twice four and a half %v", 1-whole, (1-half)*(1-half))
	}
	in.Failures, in.Hours = 7, 800 // 10 failures in 1000 hours
	if got, want := run(t, in)["print-may-fail"].Chance, 1-math.Exp(-4.5*10/1000); math.Abs(got-want) > 1e-12 {
		t.Errorf("with a log chance %v, want %v", got, want)
	}
}

func TestWhatIsPrintedCannotFail(t *testing.T) {
	in := two()
	in.Printed = []string{id("b").String()}
	if got := run(t, in)["print-may-fail"]; got.What.Part != "a" {
		t.Errorf("the risk is %s, want the piece that is not printed", got.What.Part)
	}
	in.Printed = append(in.Printed, id("a").String())
	if _, ok := run(t, in)["print-may-fail"]; ok {
		t.Error("everything is printed, and still a print may fail")
	}
}

func TestWorstJointIsNamed(t *testing.T) {
	in := two()
	bad := in.Fits[0]
	bad.Male, bad.Bind, bad.Loose = "core", 0.1, 0.02
	in.Fits = append(in.Fits, bad)
	risks := run(t, in)
	if r := risks["joint-may-bind"]; r.Chance != 0.1 || r.What.Args["male"] != finding.Name("the core") {
		t.Errorf("worst joint %+v", r)
	}
	if r := risks["joint-may-rattle"]; r.Chance != 0.02 {
		t.Errorf("loosest joint %+v", r)
	}
}

// Nothing to fear of nothing, and of what is known exactly.
func TestNothingToFear(t *testing.T) {
	if got := run(t, foresee.Input{}); len(got) > 0 {
		t.Errorf("nothing has risks %v", got)
	}
	in := two()
	in.Prints[0].Minutes, in.Prints[1].Minutes = 0, 0
	in.Fits[0].Bind, in.Fits[0].Step, in.Error.U = 0, unit.Value{}, 0
	if got := run(t, in); len(got) > 0 {
		t.Errorf("an exact build has risks %v", got)
	}
}
