package job_test

import (
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/unit"
)

func codes(found finding.List) (all []string) {
	for _, f := range found {
		all = append(all, f.Severity.String()+" "+string(f.Code))
	}
	return all
}

func TestRocketIsCleanAndWhole(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	if got := codes(r.Findings); got != nil {
		t.Errorf("findings %v on a clean build", got)
	}
	var ids []string
	for _, p := range r.Division.Pieces {
		ids = append(ids, p.ID.String())
	}
	want := []string{
		"bell.foot.nose", "tail.foot.nose", "body.foot.+1", "body.+1.+2", "body.+2.nose", "shoulder.foot.nose", "nose.foot.nose",
		"tail.foot.collar",
		"tail.foot.ring", "body.foot.ring", "body.+1.ring", "body.+2.ring", "shoulder.foot.ring", "nose.foot.ring",
	}
	if diff := cmp.Diff(want, ids); diff != "" {
		t.Errorf("pieces (-want +got):\n%s", diff)
	}
	// The cuts hide in the groove at 112 to 114 of the reference where they can.
	if at := r.Division.Cuts[1].Station; at != 684 {
		t.Errorf("the second cut of the body lies at %v, want 684, the groove's far side", at)
	}
	if r.Fits.Together < 0.95 || r.Fits.Together > 1 {
		t.Errorf("chance to go together %v", r.Fits.Together)
	}
}

// The verdict's totals are sums of what stands in the result.
func TestVerdictAddsUp(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	v := r.Verdict
	grams, minutes, prints := unit.Mass(0), unit.Minutes(0), 0
	for _, p := range r.Prints {
		grams += p.Grams
		minutes += p.Minutes
		prints++
	}
	hours, shared := 0.0, 0
	for _, s := range v.ByPrinter {
		hours += s.Hours
		shared += s.Prints
	}
	if v.Prints != prints || shared != prints || math.Abs(float64(v.Grams-grams)) > 1e-6 || math.Abs(v.PrintHours-minutes.Hours()) > 1e-9 || math.Abs(hours-v.PrintHours) > 1e-9 {
		t.Errorf("verdict %+v, want %d prints, %v g, %v h", v, prints, grams, minutes.Hours())
	}
	bench := unit.Minutes(0)
	for _, task := range r.Calendar.Tasks {
		bench += task.Bench
	}
	if math.Abs(v.BenchHours-bench.Hours()) > 1e-9 {
		t.Errorf("bench hours %v, want %v", v.BenchHours, bench.Hours())
	}
	// 218.6 mm of the reference as drawn, six times; the body 42 mm across.
	if math.Abs(v.Overall.X-1311.6) > 1e-9 || math.Abs(float64(v.Across)-252) > 1e-9 {
		t.Errorf("overall %v, across %v, want 1311.6 and 252", v.Overall.X, v.Across)
	}
	if want := int(math.Ceil(float64(grams) / 1000)); v.Spools != want || v.MoneyFor[0] != (job.Spending{For: "filament", Amount: float64(want) * 22}) {
		t.Errorf("%d spools for %v, want %d", v.Spools, v.MoneyFor, want)
	}
	sum := 0.0
	for _, s := range v.MoneyFor {
		sum += s.Amount
	}
	if math.Abs(v.Money-sum) > 1e-9 {
		t.Errorf("money %v, and its parts are %v", v.Money, v.MoneyFor)
	}
}

// Everything in the demo's verdict is the sum of what the book lists.
func TestDemoVerdictAddsUp(t *testing.T) {
	t.Parallel()
	r := mustRun(t, example(t, "foyer-rocket"))
	v := r.Verdict
	finish := 0.0
	for _, n := range r.Finishing.Needs {
		finish += n.Money
	}
	bench := unit.Minutes(0)
	for _, task := range append(r.Assembly.Tasks(), r.Finishing.Tasks...) {
		bench += task.Bench
	}
	for _, task := range r.Calendar.Tasks {
		if task.Printer != "" { // loading and clearing it
			bench += task.Bench
		}
	}
	var forFinish float64
	for _, s := range v.MoneyFor {
		if s.For == "finish" {
			forFinish = s.Amount
		}
	}
	if finish <= 0 || math.Abs(forFinish-finish) > 1e-9 {
		t.Errorf("%v for finishing, and what it needs comes to %v", forFinish, finish)
	}
	if math.Abs(v.BenchHours-bench.Hours()) > 1e-9 {
		t.Errorf("%v bench hours, and the work listed comes to %v", v.BenchHours, bench.Hours())
	}
}

func TestSameResultOnOneCoreAndEight(t *testing.T) {
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	one := runRocket(t)
	runtime.GOMAXPROCS(8)
	if !reflect.DeepEqual(one, runRocket(t)) {
		t.Error("the result depends on the number of cores")
	}
}

// An edit of one wall works anew only what hangs on it.
func TestEditOfOneWallIsCounted(t *testing.T) {
	t.Parallel()
	in := coarse()
	first, err := job.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	in.Memo.ResetCounts()
	same, err := job.Run(t.Context(), in)
	if err != nil || !reflect.DeepEqual(first, same) {
		t.Fatalf("the same build again differs, %v", err)
	}
	for stage, c := range in.Memo.Counts() {
		if c.Computed != 0 {
			t.Errorf("the same build again computed %s %d times", stage, c.Computed)
		}
	}

	in.Memo.ResetCounts()
	in.Declared.Parts = slices.Clone(in.Declared.Parts)
	in.Declared.Parts[4].Wall = unit.Shop(3) // the nose's
	edited := mustRun(t, in)
	var changed []string
	for i, c := range edited.Carved {
		if !reflect.DeepEqual(c, first.Carved[i]) {
			changed = append(changed, c.Piece.String())
		}
	}
	// The nose, the ring in it, and the shoulder, whose spigot it takes.
	want := []string{"shoulder.foot.nose", "nose.foot.nose", "nose.foot.ring"}
	if diff := cmp.Diff(want, changed); diff != "" {
		t.Errorf("changed pieces (-want +got):\n%s", diff)
	}
	runs := 1 + edited.Reruns
	counts := map[string]recipe.Counts{
		"finishing": {Computed: 1}, "inspect": {Computed: 1}, "effects": {Memory: 1}, "facts": {Memory: 1},
		"outline":  {Memory: 1},
		"readings": {Memory: 1},
		"truing":   {Memory: 1},
		"enlarge":  {Memory: 1},
		"shape":    {Computed: 1, Memory: 4},
		"divide":   {Computed: runs},
		"fit":      {Computed: runs},
		"carve":    {Computed: 3, Memory: 14*runs - 3},
		"printing": {Computed: 3, Memory: 14*runs - 3},
		"assembly": {Computed: 1},
		"calendar": {Computed: 1},
	}
	if diff := cmp.Diff(counts, in.Memo.Counts()); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
}

// Changing the ratio changes every dimension of the reference and none of the
// shop.
func TestRatioMovesTheReferenceAlone(t *testing.T) {
	t.Parallel()
	six := mustRun(t, coarse())
	in := coarse()
	in.Declared.Enlarge.Ratio = 5.5
	r := mustRun(t, in)
	const k = 5.5 / 6
	scaled := func(what string, got, was float64) {
		t.Helper()
		if math.Abs(got-k*was) > 1e-9*max(1, was) {
			t.Errorf("%s is %v, was %v, want %v", what, got, was, k*was)
		}
	}
	scaled("length", r.Enlarge.Length.X, six.Enlarge.Length.X)
	scaled("doubt of the length", r.Enlarge.Length.U, six.Enlarge.Length.U)
	scaled("largest doubt", float64(r.Design.Error.U), float64(six.Design.Error.U))
	for i, s := range r.Design.Outline {
		scaled("station", s.To.Station, six.Design.Outline[i].To.Station)
		scaled("radius", s.To.Radius, six.Design.Outline[i].To.Radius)
	}
	for i, p := range r.Design.Parts {
		was := six.Design.Parts[i]
		scaled(p.ID+" begins", float64(p.Span.From), float64(was.Span.From))
		scaled(p.ID+" ends", float64(p.Span.To), float64(was.Span.To))
		if p.Wall != was.Wall {
			t.Errorf("the wall of %s is %v, was %v", p.ID, p.Wall, was.Wall)
		}
	}
	scaled("core begins", float64(r.Design.Core.Span.From), float64(six.Design.Core.Span.From))
	if r.Design.Core.Stock != six.Design.Core.Stock || !reflect.DeepEqual(r.Design.Shop, six.Design.Shop) {
		t.Error("the pipe or the shop changed")
	}
	for _, s := range r.Division.Seats {
		if s.Span.Length() != six.Division.Seats[0].Span.Length() {
			t.Errorf("%s is %v thick, was %v", s.Ring, s.Span.Length(), six.Division.Seats[0].Span.Length())
		}
	}
	was := six.Fits.Fits[slices.IndexFunc(six.Fits.Fits, onCore)]
	for _, f := range r.Fits.Fits {
		if onCore(f) && (f.Bore.Nominal != was.Bore.Nominal || f.Clearance.X != was.Clearance.X) {
			t.Errorf("%s is bored %v for the core, was %v", f.Female, f.Bore.Nominal, was.Bore.Nominal)
		}
	}
	mustAssemble(t, r)
}

func onCore(f model.Fit) bool { return f.Male == "core" }

// Inserting a cut renames no piece that it does not touch.
func TestInsertedCutRenamesNothing(t *testing.T) {
	t.Parallel()
	cut := func(id string, at float64) model.DeclaredCut {
		return model.DeclaredCut{ID: id, Part: "body", Station: unit.Ref(at)}
	}
	ids := func(cuts ...model.DeclaredCut) map[string]bool {
		in := coarse()
		in.Declared.Cuts = cuts
		r := mustRun(t, in)
		mustAssemble(t, r)
		all := map[string]bool{}
		for _, p := range r.Division.Pieces {
			all[p.ID.String()] = true
		}
		return all
	}
	before := ids(cut("low", 66), cut("high", 102))
	after := ids(cut("low", 66), cut("mid", 84), cut("high", 102))
	for id := range before {
		if !after[id] && id != "body.low.high" {
			t.Errorf("%s is gone", id)
		}
	}
	for _, id := range []string{"body.low.mid", "body.mid.high", "body.mid.ring"} {
		if !after[id] {
			t.Errorf("no %s in %v", id, after)
		}
	}
}

// Readings in the log move what the fits count on. Four readings of 0.20, 0.22,
// 0.18 and 0.20 mm over: mean 0.20, standard uncertainty of the mean
// s/√n = 0.0163/2 = 0.0082 (JCGM 100:2008, 4.2.3), a caliper's at least.
func TestLogChangesCalibrations(t *testing.T) {
	t.Parallel()
	in := coarse()
	in.Declared.Shop.Printers = slices.Clone(in.Declared.Shop.Printers)
	in.Declared.Shop.Printers[0].Calibrated = model.Calibration{Outer: unit.Value{U: 0.2}, Bore: unit.Value{U: 0.2}}
	guessed := mustRun(t, in)
	if diff := cmp.Diff([]string{"note printer-not-measured"}, codes(guessed.Findings)); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	mustAssemble(t, guessed)
	for _, over := range []float64{0.20, 0.22, 0.18, 0.20} {
		for _, what := range []string{"outer", "bore"} {
			in.Events = append(in.Events, model.Event{Kind: model.Measured, Printer: "heron", What: what, Asked: 100, Came: 100 + over})
		}
	}
	read := mustRun(t, in)
	if got := codes(read.Findings); got != nil {
		t.Errorf("findings %v after measuring", got)
	}
	c := read.Design.Shop.Printers[0].Calibrated
	const caliper, declared = 0.03, 0.2
	wr, wd := 1/(caliper*caliper), 1/(declared*declared)
	if math.Abs(c.Outer.X-0.20*wr/(wr+wd)) > 1e-9 || math.Abs(c.Outer.U-1/math.Sqrt(wr+wd)) > 1e-9 || !c.Measured {
		t.Errorf("calibrated to %+v", c)
	}
	for i, f := range read.Fits.Fits {
		if was := guessed.Fits.Fits[i]; f.Clearance.U >= was.Clearance.U && f.Male != "core" && f.Female != "tail.foot.nose" && f.Female != "bell.foot.nose" {
			t.Errorf("%s in %s: clearance ± %v, was ± %v before measuring", f.Male, f.Female, f.Clearance.U, was.Clearance.U)
		}
	}
	if !reflect.DeepEqual(read.Design.Shop.Printers[1], guessed.Design.Shop.Printers[1]) {
		t.Error("the other printer's calibration moved too")
	}
}

func TestBlockersStopWhatFollows(t *testing.T) {
	t.Parallel()
	in := coarse()
	in.Declared.Shop.Printers = in.Declared.Shop.Printers[1:] // 220 mm for a body of 252 mm
	r, err := job.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Blocked() || r.Carved != nil || r.Calendar.Tasks != nil || r.Design.Parts == nil {
		t.Errorf("findings %v, %d carved", codes(r.Findings), len(r.Carved))
	}
	if !slices.Contains(codes(r.Findings), "blocker piece-too-large") {
		t.Errorf("findings %v", codes(r.Findings))
	}
}

func TestQuietSilencesCautionsOnly(t *testing.T) {
	t.Parallel()
	in := coarse()
	in.Declared.Shop.People = nil
	r, err := job.Run(t.Context(), in)
	if err != nil || !slices.Contains(codes(r.Findings), "caution nobody-works") {
		t.Fatalf("findings %v, %v", codes(r.Findings), err)
	}
	in.Declared.Quiet = []model.Quiet{{Code: "nobody-works", Because: "a museum's staff build it"}}
	if r, err = job.Run(t.Context(), in); err != nil || r.Findings != nil {
		t.Errorf("silenced: %v, %v", codes(r.Findings), err)
	}
}
