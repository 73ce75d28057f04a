package calendar_test

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// stack is shells on top of one another, each with a joint to the one below,
// and the print minutes of each on a printer in turn; a maker with weekday
// evenings.
func stack(printers []string, minutes ...unit.Minutes) calendar.Input {
	in := calendar.Input{Start: "2026-11-30"} // a Monday
	in.Tasks = []model.Task{{ID: model.SawCore, Kind: model.Saw, Name: "saw the core", Bench: 25, Guess: true}}
	maker := model.Person{ID: "maker", Name: "the maker"}
	for day := range 5 {
		maker.Hours = append(maker.Hours, model.OpenTime{From: unit.Minutes(1440*day + 1110), To: unit.Minutes(1440*day + 1290)})
	}
	in.People = []model.Person{maker}
	for _, p := range slices.Compact(slices.Sorted(slices.Values(printers))) {
		in.Printers = append(in.Printers, model.Printer{ID: p, Name: p})
	}
	for i, m := range minutes {
		id := model.PieceID{Kind: model.Shell, Part: fmt.Sprint("p", i), From: model.Foot, To: model.Nose}
		in.Division.Pieces = append(in.Division.Pieces, model.Piece{ID: id, Name: id.Part, Printer: printers[i%len(printers)]})
		in.Prints = append(in.Prints, model.Print{Piece: id, Printer: printers[i%len(printers)], Minutes: m})
		if i > 0 {
			seam := fmt.Sprintf("p%d-p%d", i-1, i)
			after := []string{model.SawCore, model.PrintTask(in.Division.Pieces[i-1].ID), model.PrintTask(id), "prep.nobody"}
			if i > 1 {
				after = append(after, in.Tasks[len(in.Tasks)-1].ID)
			}
			in.Tasks = append(in.Tasks, model.Task{ID: model.JoinTask(seam), Kind: model.Join, Name: "glue " + seam, After: after, Bench: 30, Cure: 1440, Guess: true})
		}
	}
	return in
}

func mustPlan(t testing.TB, in calendar.Input) calendar.Result {
	t.Helper()
	r, found, err := calendar.Run(context.Background(), in)
	if err != nil || len(found) != 0 {
		t.Fatalf("Run: %v, %v", found, err)
	}
	return r
}

func task(t testing.TB, r calendar.Result, id string) calendar.Task {
	t.Helper()
	k := slices.IndexFunc(r.Tasks, func(task calendar.Task) bool { return task.ID == id })
	if k < 0 {
		t.Fatalf("no task %s", id)
	}
	return r.Tasks[k]
}

// One print of 1 h 40 begun on Monday at 18:30 and cleared the same evening; the
// second over night, cleared on Tuesday; the glue-up on Tuesday sets a day.
func ExampleRun() {
	r, found, err := calendar.Run(context.Background(), stack([]string{"heron"}, 100, 600))
	for _, task := range r.Tasks {
		fmt.Printf("%-20s day %d %02d:%02d to day %d %02d:%02d\n", task.ID, task.From/1440, task.From/60%24, task.From%60, task.To/1440, task.To/60%24, task.To%60)
	}
	fmt.Println(r.Finish, found, err)
	// Output:
	// print.p0.foot.nose   day 0 18:30 to day 0 20:30
	// saw.core             day 0 18:40 to day 0 19:05
	// print.p1.foot.nose   day 0 20:30 to day 1 18:40
	// join.p0-p1           day 1 18:40 to day 2 19:10
	// 2026-12-02 [] <nil>
}

func TestPrinterIsHeldUntilItIsCleared(t *testing.T) {
	r := mustPlan(t, stack([]string{"heron"}, 400, 400, 400))
	for i := 1; i < 3; i++ {
		before, after := task(t, r, fmt.Sprintf("print.p%d.foot.nose", i-1)), task(t, r, fmt.Sprintf("print.p%d.foot.nose", i))
		if after.From < before.To && before.From < after.To {
			t.Errorf("%s %d to %d and %s %d to %d share one printer", before.ID, before.From, before.To, after.ID, after.From, after.To)
		}
	}
}

func TestJoinsWaitForTheirPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minutes := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) unit.Minutes { return unit.Minutes(rapid.IntRange(20, 1500).Draw(t, "min")) }), 2, 5).Draw(t, "minutes")
		in := stack(rapid.SampledFrom([][]string{{"heron"}, {"heron", "wren"}}).Draw(t, "printers"), minutes...)
		r, found, err := calendar.Run(context.Background(), in)
		if err != nil || len(found) != 0 {
			t.Fatalf("%v, %v", found, err)
		}
		at := map[string]calendar.Task{}
		bench, print := unit.Minutes(0), unit.Minutes(0)
		for _, task := range r.Tasks {
			at[task.ID] = task
			bench += task.Bench
			for _, s := range task.Steps {
				if s.Name == "run" {
					print += s.To - s.From
				}
				if s.Name != "run" && s.Name != "cure" {
					minute := s.From % 1440
					if day := s.From / 1440 % 7; day > 4 || minute < 1110 || s.From/1440 != (s.To-1)/1440 || (s.To-1)%1440 >= 1290 {
						t.Errorf("%s: %s from %v to %v, when nobody is there", task.ID, s.Name, s.From, s.To)
					}
				}
			}
		}
		if bench != r.Bench || print != r.Print {
			t.Errorf("bench %v, print %v, the tasks' %v, %v", r.Bench, r.Print, bench, print)
		}
		for _, later := range in.Tasks {
			for _, first := range later.After {
				if f, ok := at[first]; ok && f.To > at[later.ID].From {
					t.Errorf("%s begins at %v, %s ends at %v", later.ID, at[later.ID].From, first, f.To)
				}
			}
		}
	})
}

func TestWhatIsDoneIsNotPlanned(t *testing.T) {
	in := stack([]string{"heron"}, 100, 600)
	in.Done = []string{"print.p0.foot.nose", "saw.core"}
	if r := mustPlan(t, in); len(r.Tasks) != 2 {
		t.Errorf("tasks %+v", r.Tasks)
	}
	in.Done = append(in.Done, "print.p1.foot.nose", "join.p0-p1")
	if r := mustPlan(t, in); len(r.Tasks) != 0 || r.Finish != in.Start {
		t.Errorf("all done: %+v", r)
	}
}

func TestFindings(t *testing.T) {
	late := stack([]string{"heron"}, 600, 600, 600)
	late.Ready = "2026-12-01"
	tight := stack([]string{"heron"}, 600, 600, 600)
	r := mustPlan(t, tight)
	if r.Likely >= r.Safe {
		t.Fatalf("likely %s, safe %s: nothing lies between", r.Likely, r.Safe)
	}
	tight.Ready = r.Likely
	beyond := stack([]string{"heron"}, 600)
	beyond.Start = "9999-12-31"
	never := stack([]string{"heron"}, 100, 100)
	never.People[0].Hours = []model.OpenTime{{From: 0, To: 5}} // too short to load
	for _, c := range []struct {
		code string
		in   calendar.Input
	}{
		{"nobody-works", calendar.Input{Start: "2026-11-30"}},
		{"too-late", late},
		{"may-be-late", tight},
		{"date-beyond", beyond},
		{"no-plan", never},
	} {
		r, found, err := calendar.Run(context.Background(), c.in)
		if err != nil || len(found) != 1 || string(found[0].Code) != c.code {
			t.Errorf("%s: found %v, %v", c.code, found, err)
		}
		sum := unit.Minutes(20 * len(c.in.Prints))
		for _, task := range c.in.Tasks {
			sum += task.Bench
		}
		if r.Bench != sum {
			t.Errorf("%s: bench %v, want %v, plan or no plan", c.code, r.Bench, sum)
		}
	}
	if _, _, err := calendar.Run(context.Background(), calendar.Input{Start: "30.11.2026"}); err == nil {
		t.Error("a date in another form is read")
	}
}

// What is sprayed holds the spraying place until it is dry; sanding goes on from
// evening to evening, within the hours, and adds up.
func TestSprayAndSanding(t *testing.T) {
	in := stack([]string{"heron"}, 100)
	in.Tasks = []model.Task{
		{ID: "coat.a", Kind: model.Prime, Name: "prime a", Bench: 20, Cure: 600, Spray: true},
		{ID: "coat.b", Kind: model.Paint, Name: "paint b", Bench: 20, Cure: 600, Spray: true},
		{ID: "sand", Kind: model.Sand, Name: "sand it", Bench: 600},
	}
	r := mustPlan(t, in)
	a, b, sand := task(t, r, "coat.a"), task(t, r, "coat.b"), task(t, r, "sand")
	if a.From < b.To && b.From < a.To {
		t.Errorf("a lies from %v to %v and b from %v to %v in one spraying place", a.From, a.To, b.From, b.To)
	}
	sum := unit.Minutes(0)
	for _, s := range sand.Steps {
		sum += s.To - s.From
		if s.Name != "sand" || s.From/1440 != (s.To-1)/1440 || s.From%1440 < 1110 || (s.To-1)%1440 >= 1290 {
			t.Errorf("sanding from %v to %v", s.From, s.To)
		}
	}
	if sum != 600 || len(sand.Steps) < 4 {
		t.Errorf("%v minutes of sanding in %d evenings of 180", sum, len(sand.Steps))
	}
	if acts := calendar.Acts(r); len(acts) != 2+2+len(sand.Steps) {
		t.Errorf("%d acts", len(acts))
	}
}

func TestSameAtAnyNumberOfCores(t *testing.T) {
	in := stack([]string{"heron", "wren"}, 100, 600, 300, 900)
	in.Seed = 7
	one := mustPlan(t, in)
	old := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(old)
	if diff := cmp.Diff(one, mustPlan(t, in)); diff != "" {
		t.Errorf("one core differs:\n%s", diff)
	}
	for _, task := range one.Tasks {
		if task.Critical < 0 || task.Critical > 1 {
			t.Errorf("%s is critical %v", task.ID, task.Critical)
		}
	}
}

func TestRingOfWaitsIsABug(t *testing.T) {
	for name, after := range map[string][2]string{"itself": {"a", ""}, "each other": {"b", "a"}} {
		in := stack([]string{"heron"}, 100)
		in.Tasks = []model.Task{
			{ID: "a", Kind: model.Sand, Name: "a", Bench: 5, After: []string{after[0]}},
			{ID: "b", Kind: model.Sand, Name: "b", Bench: 5, After: []string{after[1]}},
		}
		func() {
			defer func() {
				if got := recover(); got != "calendar: internal error: a waits for itself" {
					t.Errorf("%s: %v", name, got)
				}
			}()
			_, _, _ = calendar.Run(context.Background(), in)
		}()
	}
}
