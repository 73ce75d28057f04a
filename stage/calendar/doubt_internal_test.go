package calendar

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"scalewright/model"
	"scalewright/sched"
	"scalewright/unit"
)

// always is a shop whose people never sleep, so that sums of minutes are sums.
func always(people int) Input {
	in := Input{Start: "2026-11-30", Seed: 1, Printers: []model.Printer{{ID: "heron"}}}
	for i := range people {
		in.People = append(in.People, model.Person{ID: fmt.Sprint("p", i), Hours: []model.OpenTime{{From: 0, To: 7 * 1440}}})
	}
	return in
}

func work(id string, minutes unit.Minutes, guess bool, after ...string) model.Task {
	return model.Task{ID: id, Kind: model.Join, Name: id, Bench: minutes, Guess: guess, After: after}
}

// ends are the makespans of so many samples.
func ends(t testing.TB, in Input, samples int) []float64 {
	t.Helper()
	in.Samples = samples
	b, err := newBoard(in, 0)
	if err != nil {
		t.Fatal(err)
	}
	b.fill()
	plan, err := sched.BestSerial(context.Background(), b.problem)
	if err != nil || plan.Tasks == nil {
		t.Fatal(err, plan.Status)
	}
	got, err := b.sample(context.Background(), plan)
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	for _, e := range got.ends {
		out = append(out, float64(e))
	}
	return out
}

func moments(x []float64) (mean, variance float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		variance += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return mean, variance
}

const many = 20_000

// near fails where a mean of many samples is more than four standard errors off.
func near(t *testing.T, what string, got, want, variance float64) {
	t.Helper()
	if bound := 4 * math.Sqrt(variance/many); math.Abs(got-want) > bound {
		t.Errorf("%s %v, want %v within %v", what, got, want, bound)
	}
}

// Moments of log-normal variables with median m and deviation s of the logarithm:
// mean m exp(s²/2), variance m² exp(s²)(exp(s²) - 1) (Johnson, Kotz & Balakrishnan,
// Continuous Univariate Distributions, vol. 1, 2nd ed., 1994, 14.8). Means and
// variances of independent ones add; a shared factor multiplies the whole sum.
func TestChainAgainstClosedForm(t *testing.T) {
	minutes := []unit.Minutes{2000, 500, 3500, 1200}
	own := guessSpread / math.Sqrt2
	for _, guess := range []bool{false, true} {
		in := always(1)
		mean, variance := 0.0, 0.0
		for i, m := range minutes {
			in.Tasks = append(in.Tasks, work(fmt.Sprint(i), m, guess, fmt.Sprint(i-1)))
			x := float64(m)
			mean += x * math.Exp(own*own/2)
			variance += x * x * math.Exp(own*own) * (math.Exp(own*own) - 1)
		}
		if guess {
			shared := own
			square := math.Exp(2*shared*shared) * (variance + mean*mean)
			mean *= math.Exp(shared * shared / 2)
			variance = square - mean*mean
		}
		got, spread := moments(ends(t, in, many))
		near(t, fmt.Sprintf("guess %v: mean", guess), got, mean, variance)
		// The variance of a sample variance of something with these tails is within
		// six times the normal's 2 σ⁴/n.
		near(t, fmt.Sprintf("guess %v: variance", guess), spread, variance, 12*variance*variance)
	}
}

// Of two equal log-normal times side by side the longer has the mean
// 2 m exp(s²/2) Φ(s/√2): E max(X, Y) = 2 E(X; X > Y), and weighing by X moves its
// logarithm up by s². (Clark, "The greatest of a finite set of random variables",
// Operations Research 9, 1961, for normal ones.)
func TestSideBySideAgainstClosedForm(t *testing.T) {
	in := always(2)
	in.Tasks = []model.Task{work("a", 4000, false), work("b", 4000, false)}
	own := guessSpread / math.Sqrt2
	phi := (1 + math.Erf(own/2)) / 2
	x := ends(t, in, many)
	got, variance := moments(x)
	near(t, "mean of the longer", got, 2*4000*math.Exp(own*own/2)*phi, variance)
}

// A print fails with chance p each time, at any share of its run, at most three
// times: the mean number of failures is p + p² + p³.
func TestFailedPrints(t *testing.T) {
	in := always(1)
	id := model.PieceID{Kind: model.Shell, Part: "a", From: model.Foot, To: model.Nose}
	in.Division.Pieces = []model.Piece{{ID: id, Name: "a"}}
	in.Prints = []model.Print{{Piece: id, Printer: "heron", Minutes: 5000, Logged: true}}
	x := ends(t, in, many)
	got, variance := moments(x)
	const p = failing
	run := 5000 * math.Exp(printSpread(in.Prints[0]).own*printSpread(in.Prints[0]).own/2)
	near(t, "mean", got, 20+run+(p+p*p+p*p*p)*(20+run/2), variance)
	failed := 0
	for _, e := range x {
		if e > 5000*1.25 { // eight deviations of the run alone
			failed++
		}
	}
	if failed == 0 {
		t.Error("no print of 20,000 failed late")
	}
}

// The safe date of 200 samples covers nine tenths of independent runs: on the mean
// over fifty seeds between 0.89 and 0.91 (the standard error of that mean is 0.003).
func TestSafeCoversNineInTen(t *testing.T) {
	in := always(2)
	for i := range 6 {
		in.Tasks = append(in.Tasks, work(fmt.Sprint(i), unit.Minutes(800+300*i), true, fmt.Sprint(i-2)))
	}
	in.Seed = 999
	truth := ends(t, in, many)
	sum := 0.0
	const seeds = 50
	for seed := range seeds {
		in.Seed = uint64(seed)
		x := ends(t, in, usualSamples)
		q := sampled{}
		for _, e := range x {
			q.ends = append(q.ends, int(e))
		}
		at, _ := slices.BinarySearch(truth, float64(q.quantile(safe))+0.5)
		sum += float64(at) / many
	}
	if mean := sum / seeds; mean < 0.89 || mean > 0.91 {
		t.Errorf("the safe date covers %v", mean)
	}
}

func TestQuantile(t *testing.T) {
	s := sampled{ends: []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}}
	for share, want := range map[float64]int{0: 1, 0.1: 1, 0.5: 5, 0.9: 9, 0.91: 10, 1: 10} {
		if got := s.quantile(share); got != want {
			t.Errorf("quantile(%v) = %d, want %d", share, got, want)
		}
	}
}

// A task has the same luck whatever else is planned.
func TestLuckIsTheTasksOwn(t *testing.T) {
	in := always(1)
	in.Tasks = []model.Task{work("a", 3000, true)}
	alone := ends(t, in, 50)
	in.People = append(in.People, always(2).People[1])
	in.Tasks = []model.Task{work("b", 1, true), work("a", 3000, true)}
	if beside := ends(t, in, 50); !slices.Equal(alone, beside) {
		t.Errorf("%v beside a short task, %v alone", beside, alone)
	}
}

// By hand: two logged tasks of a kind took twice what was guessed. With a prior as
// wide as one task's own scatter the mean moves two thirds of the way, and the
// shared doubt shrinks by √3.
func TestPace(t *testing.T) {
	in := Input{
		Tasks: []model.Task{work("a", 30, true), work("b", 60, true), work("c", 100, true)},
		Took:  map[string]unit.Minutes{"a": 60, "b": 120, "unknown": 5},
	}
	p := paces(in)[model.Join]
	if got, want := p.of(100), unit.Minutes(math.Round(100*math.Exp(2.0/3*math.Ln2))); got != want {
		t.Errorf("100 min are planned as %v, want %v", got, want)
	}
	if got, want := p.doubt(), guessSpread/math.Sqrt2/math.Sqrt(3); math.Abs(got-want) > 1e-12 {
		t.Errorf("shared doubt %v, want %v", got, want)
	}
	if none := (pace{}); none.of(100) != 100 || math.Abs(none.doubt()-guessSpread/math.Sqrt2) > 1e-12 {
		t.Errorf("with nothing logged: %v, %v", none.of(100), none.doubt())
	}
}

// What can end later without moving the end is found as slow as can be: by putting
// the task off by a day and planning again in the same order.
func TestSpareAgainstPuttingOff(t *testing.T) {
	in := Input{Start: "2026-11-30", Printers: []model.Printer{{ID: "heron"}, {ID: "wren"}}}
	maker := model.Person{ID: "maker"}
	for day := range 7 {
		maker.Hours = append(maker.Hours, model.OpenTime{From: unit.Minutes(1440*day + 1110), To: unit.Minutes(1440*day + 1290)})
	}
	in.People = []model.Person{maker}
	cured := func(id string, after ...string) model.Task {
		t := work(id, 30, true, after...)
		t.Cure = 1440
		return t
	}
	in.Tasks = []model.Task{cured("a"), cured("b", "a"), cured("c", "b"), cured("d", "b"), work("e", 20, true, "c", "d"), work("alone", 20, true)}
	b, err := newBoard(in, 0)
	if err != nil {
		t.Fatal(err)
	}
	b.fill()
	plan, err := sched.BestSerial(context.Background(), b.problem)
	if err != nil {
		t.Fatal(err)
	}
	spare := b.spare(b.problem, plan)
	for i := range b.tasks {
		late := b.problem
		late.Tasks = slices.Clone(b.problem.Tasks)
		late.Tasks[i].Release = plan.Tasks[i].Start() + sched.Day
		moved, err := sched.BestSerial(context.Background(), late)
		if err != nil {
			t.Fatal(err)
		}
		if hangs, want := spare[i] < sched.Day, moved.Makespan > plan.Makespan; hangs != want {
			t.Errorf("%s: the end hangs on it %v (spare %d), a day later moves it %v", b.tasks[i].ID, hangs, spare[i], want)
		}
	}
}

// A plan of 150 tasks with its doubt.
func BenchmarkRun(b *testing.B) {
	in := busy(150)
	for b.Loop() {
		if _, _, err := Run(context.Background(), in); err != nil {
			b.Fatal(err)
		}
	}
}

// busy is a third prints and the rest bench work in three chains, on evenings.
func busy(n int) Input {
	in := Input{Start: "2026-11-30", Seed: 1, Printers: []model.Printer{{ID: "heron"}, {ID: "wren"}}}
	maker := model.Person{ID: "maker"}
	for day := range 7 {
		maker.Hours = append(maker.Hours, model.OpenTime{From: unit.Minutes(1440*day + 1110), To: unit.Minutes(1440*day + 1290)})
	}
	in.People = []model.Person{maker}
	for i := range n / 3 {
		id := model.PieceID{Kind: model.Shell, Part: fmt.Sprint("p", i), From: model.Foot, To: model.Nose}
		in.Division.Pieces = append(in.Division.Pieces, model.Piece{ID: id, Name: id.Part})
		in.Prints = append(in.Prints, model.Print{Piece: id, Printer: in.Printers[i%2].ID, Minutes: unit.Minutes(60 + 37*i%700)})
	}
	for i := range n - n/3 {
		task := work(fmt.Sprint("w", i), unit.Minutes(10+7*i%50), true, fmt.Sprint("w", i-3))
		if i < len(in.Division.Pieces) {
			task.After = append(task.After, model.PrintTask(in.Division.Pieces[i].ID))
		}
		if i%4 == 0 {
			task.Cure = 240
		}
		task.Spray = i%8 == 0
		in.Tasks = append(in.Tasks, task)
	}
	return in
}
