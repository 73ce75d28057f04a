package recipe_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/unit"
)

// A trial is one case of the table: what each run observes, and what the
// decisions assume by themselves.
func TestSettle(t *testing.T) {
	film := func(mm unit.Length) recipe.Assumptions {
		return recipe.Assumptions{Film: map[string]unit.Length{"seam": mm}}
	}
	marks := func(b bool) recipe.Assumptions {
		return recipe.Assumptions{Support: map[string]bool{"seam": b}}
	}
	takes := func(m unit.Minutes) recipe.Assumptions {
		return recipe.Assumptions{Minutes: map[string]unit.Minutes{"seam": m}}
	}
	turned := func(d string) recipe.Assumptions {
		return recipe.Assumptions{Direction: map[string]string{"seam": d}}
	}
	none := recipe.Assumptions{}
	for _, c := range []struct {
		name     string
		own      recipe.Assumptions
		observed []recipe.Assumptions // by run; the last repeats
		told     string               // by run
		runs     int
		unmet    string
	}{
		{"covered at once", film(0.3), []recipe.Assumptions{film(0.3)}, "-", 1, ""},
		{"nothing looked at", film(0.3), []recipe.Assumptions{none}, "-", 1, ""},
		{"nothing assumed", none, []recipe.Assumptions{film(0.3)}, "-", 1, ""},
		{"thicker once", film(0.3), []recipe.Assumptions{film(0.5)}, "- 0.5", 2, ""},
		{"assumed to be bare", film(0), []recipe.Assumptions{film(0.1)}, "- 0.1", 2, ""},
		{"thicker twice", film(0.3), []recipe.Assumptions{film(0.5), film(0.6)}, "- 0.5 0.6", 3, ""},
		{"thicker and thicker", film(0.3), []recipe.Assumptions{film(0.5), film(0.6), film(0.7)}, "- 0.5 0.6", 3, "film of seam 0.6 0.7"},
		{"never thinner", film(0.3), []recipe.Assumptions{film(0.5), film(0.1)}, "- 0.5", 2, ""},
		{"marks", marks(false), []recipe.Assumptions{marks(true)}, "- true", 2, ""},
		{"marks assumed", marks(true), []recipe.Assumptions{marks(false)}, "-", 1, ""},
		{"marks come and go", marks(false), []recipe.Assumptions{marks(true), marks(false)}, "- true", 2, ""},
		{"longer", takes(60), []recipe.Assumptions{takes(90)}, "- 90", 2, ""},
		{"longer and longer", takes(60), []recipe.Assumptions{takes(90), takes(91), takes(92)}, "- 90 91", 3, "hours of seam 91 92"},
		{"turned over", turned("foot down"), []recipe.Assumptions{turned("nose down")}, "- nose down", 2, ""},
		{"turned over and over", turned("foot down"), []recipe.Assumptions{turned("nose down"), turned("foot down")}, "- nose down", 2, "print direction of seam nose down foot down"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var told []string
			got, err := recipe.Settle(t.Context(), recipe.MostReruns, func(_ context.Context, tell recipe.Assumptions) (recipe.Outcome[int], error) {
				told = append(told, wrote(tell))
				return recipe.Outcome[int]{
					Value: len(told), Assumed: follow(tell, c.own),
					Observed: c.observed[min(len(told), len(c.observed))-1],
				}, nil
			})
			var unmet []string
			for _, u := range got.Unmet {
				unmet = append(unmet, fmt.Sprintf("%s of %s %v %v", u.Matter, u.ID, u.Assumed, u.Observed))
			}
			if err != nil || got.Runs != c.runs || got.Value != c.runs || strings.Join(unmet, "; ") != c.unmet || strings.Join(told, " ") != c.told {
				t.Errorf("runs %d (value %d), told %q, unmet %q, %v; want %d, %q, %q", got.Runs, got.Value, told, unmet, err, c.runs, c.told, c.unmet)
			}
		})
	}
}

func wrote(a recipe.Assumptions) string {
	for _, x := range a.Film {
		return fmt.Sprint(x)
	}
	for _, x := range a.Support {
		return fmt.Sprint(x)
	}
	for _, x := range a.Minutes {
		return fmt.Sprint(x)
	}
	for _, x := range a.Direction {
		return x
	}
	return "-"
}

// follow is a decision that takes its own figures, or what it is told.
func follow(told, own recipe.Assumptions) recipe.Assumptions {
	var a recipe.Assumptions
	for id, x := range own.Film {
		a.AssumeFilm(told, id, x)
	}
	for id, x := range own.Support {
		a.AssumeSupport(told, id, x)
	}
	for id, x := range own.Minutes {
		a.AssumeMinutes(told, id, x)
	}
	for id, x := range own.Direction {
		a.AssumeDirection(told, id, x)
	}
	return a
}

func drawAssumptions(t *rapid.T, name string) recipe.Assumptions {
	id := rapid.SampledFrom([]string{"a", "b"})
	n := rapid.IntRange(0, 3)
	var a recipe.Assumptions
	for range rapid.IntRange(0, 6).Draw(t, name) {
		switch n.Draw(t, "matter") {
		case 0:
			a.ObserveFilm(id.Draw(t, "id"), unit.Length(n.Draw(t, "film")))
		case 1:
			a.ObserveSupport(id.Draw(t, "id"), n.Draw(t, "marks") > 1)
		case 2:
			a.ObserveMinutes(id.Draw(t, "id"), unit.Minutes(n.Draw(t, "minutes")))
		case 3:
			a.ObserveDirection(id.Draw(t, "id"), []string{"", "foot", "nose", "side"}[n.Draw(t, "direction")])
		}
	}
	return a
}

// The laws of Settle, whatever decisions and judges say:
//
//  1. at most 1 + reruns runs;
//  2. what is told covers all that was told and assumed before, but for
//     directions;
//  3. a direction, once told, never changes;
//  4. what is unmet is just what the last run assumed and does not cover;
//  5. a run follows only where something was unmet.
func TestSettleLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reruns := rapid.IntRange(0, 3).Draw(t, "reruns")
		var before, assumed, observed recipe.Assumptions
		runs := 0
		got, err := recipe.Settle(t.Context(), reruns, func(_ context.Context, told recipe.Assumptions) (recipe.Outcome[int], error) {
			if runs > 0 && len(assumed.Against(observed)) == 0 {
				t.Fatalf("law 5: run %d follows nothing unmet", runs+1)
			}
			if !covers(told, before) || !covers(told, recipe.Assumptions{Film: assumed.Film, Support: assumed.Support, Minutes: assumed.Minutes}) {
				t.Fatalf("laws 2, 3: told %+v after %+v and assuming %+v", told, before, assumed)
			}
			runs++
			before = told.Clone()
			assumed, observed = follow(told, drawAssumptions(t, "own")), drawAssumptions(t, "observed")
			for id := range told.Film { // a decision may not write to what it is told
				told.Film[id] = -1
			}
			return recipe.Outcome[int]{Value: runs, Assumed: assumed, Observed: observed}, nil
		})
		if err != nil || runs > 1+reruns || got.Runs != runs || got.Value != runs {
			t.Fatalf("law 1: %d runs, %+v, %v", runs, got, err)
		}
		want := 0
		for id, x := range assumed.Film {
			if o, ok := observed.Film[id]; ok && o > x {
				want++
			}
		}
		for id, x := range assumed.Support {
			if o, ok := observed.Support[id]; ok && o && !x {
				want++
			}
		}
		for id, x := range assumed.Minutes {
			if o, ok := observed.Minutes[id]; ok && o > x {
				want++
			}
		}
		for id, x := range assumed.Direction {
			if o, ok := observed.Direction[id]; ok && o != x {
				want++
			}
		}
		if len(got.Unmet) != want {
			t.Fatalf("law 4: %d unmet, want %d", len(got.Unmet), want)
		}
	})
}

// covers reports whether a holds every id of b, on the same side or a safer one.
func covers(a, b recipe.Assumptions) bool {
	for id, x := range b.Film {
		if y, ok := a.Film[id]; !ok || y < x {
			return false
		}
	}
	for id, x := range b.Support {
		if y, ok := a.Support[id]; !ok || x && !y {
			return false
		}
	}
	for id, x := range b.Minutes {
		if y, ok := a.Minutes[id]; !ok || y < x {
			return false
		}
	}
	for id, x := range b.Direction {
		if a.Direction[id] != x {
			return false
		}
	}
	return true
}

func TestSettleStops(t *testing.T) {
	wrong := errors.New("wrong")
	if _, err := recipe.Settle(t.Context(), 2, func(context.Context, recipe.Assumptions) (recipe.Outcome[int], error) {
		return recipe.Outcome[int]{}, wrong
	}); !errors.Is(err, wrong) {
		t.Errorf("err = %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	runs := 0
	_, err := recipe.Settle(ctx, 2, func(_ context.Context, told recipe.Assumptions) (recipe.Outcome[int], error) {
		runs++
		cancel()
		var out recipe.Outcome[int]
		out.Assumed.AssumeFilm(told, "seam", 0)
		out.Observed.ObserveFilm("seam", 1)
		return out, nil
	})
	if !errors.Is(err, context.Canceled) || runs != 1 {
		t.Errorf("cancelled: %v after %d runs", err, runs)
	}
}

// What a run does to the maps it is handed is its own affair.
func TestSettleTellsCopies(t *testing.T) {
	var told []float64
	_, err := recipe.Settle(t.Context(), 2, func(_ context.Context, tell recipe.Assumptions) (recipe.Outcome[int], error) {
		told = append(told, float64(tell.Film["a"]))
		var out recipe.Outcome[int]
		if len(told) == 1 {
			out.Assumed.AssumeFilm(tell, "a", 0.2) // the second run has no such seam
		}
		out.Assumed.AssumeFilm(tell, "b", 0.1)
		clear(tell.Film)
		out.Observed.ObserveFilm("b", unit.Length(len(told)))
		return out, nil
	})
	if diff := cmp.Diff([]float64{0, 0.2, 0.2}, told); diff != "" || err != nil {
		t.Errorf("told of a, by run (-want +got), %v:\n%s", err, diff)
	}
}

func TestSettleDeafDecision(t *testing.T) {
	defer func() {
		if got := fmt.Sprint(recover()); !strings.Contains(got, "told film of seam to be at least 1, assumed 0.2") {
			t.Errorf("panics with %q", got)
		}
	}()
	_, _ = recipe.Settle(t.Context(), 2, func(context.Context, recipe.Assumptions) (recipe.Outcome[int], error) {
		var out recipe.Outcome[int]
		out.Assumed.AssumeFilm(recipe.Assumptions{}, "seam", 0.2) // does not listen
		out.Observed.ObserveFilm("seam", 1)
		return out, nil
	})
	t.Error("not noticed")
}

func TestUnmetFindings(t *testing.T) {
	var a, o recipe.Assumptions
	told := recipe.Assumptions{}
	a.AssumeFilm(told, "s2", 0.3)
	a.AssumeFilm(told, "s1", 0.25)
	a.AssumeSupport(told, "s1", false)
	a.AssumeMinutes(told, "p1", 340)
	a.AssumeDirection(told, "p1", "foot down")
	o.ObserveFilm("s1", 0.5)
	o.ObserveFilm("s2", 0.4)
	o.ObserveSupport("s1", true)
	o.ObserveMinutes("p1", 400)
	o.ObserveDirection("p1", "nose down")
	settled, err := recipe.Settle(t.Context(), 0, func(context.Context, recipe.Assumptions) (recipe.Outcome[int], error) {
		return recipe.Outcome[int]{Assumed: a, Observed: o}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	list := settled.Findings(func(id string) recipe.Concern {
		return recipe.Concern{At: finding.Place{File: "build.yaml"}, Part: "body", Name: map[string]string{"s1": "the seam at 678", "s2": "the seam at 900", "p1": "body 2 of 3"}[id]}
	})
	var got bytes.Buffer
	for _, f := range list {
		if f.Part != "body" || f.Severity != finding.Caution || f.Stage != "job" {
			t.Errorf("finding %+v", f)
		}
		fmt.Fprintln(&got, finding.Writer{}.Message(f))
	}
	want := `film at the seam at 678: counted on 0.25 mm, comes to 0.5 mm
film at the seam at 900: counted on 0.3 mm, comes to 0.4 mm
support marks at the seam at 678: counted on none, comes to yes
hours at body 2 of 3: counted on 5 h 40, comes to 6 h 40
print direction at body 2 of 3: counted on foot down, comes to nose down
`
	if diff := cmp.Diff(want, got.String()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
