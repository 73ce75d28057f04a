package sched_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"scalewright/sched"
	"scalewright/sched/psplib"
)

// ft06 is the six by six instance of Fisher & Thompson, "Probabilistic learning
// combinations of local job-shop scheduling rules", in Industrial Scheduling,
// Prentice-Hall 1963; its optimum is 55 (Lawrence's and later lists).
const ft06 = `6 6
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1
`

// ft06Starts is a schedule of length 55, operations in the order of their tasks.
var ft06Starts = []int{
	5, 6, 16, 30, 38, 49,
	0, 8, 13, 28, 38, 48,
	0, 5, 9, 18, 27, 38,
	8, 13, 22, 27, 30, 45,
	13, 22, 25, 41, 48, 52,
	13, 16, 19, 28, 45, 49,
}

// j301 is instance j301_1 of PSPLIB (Kolisch & Sprecher, European Journal of
// Operational Research 96, 1996, 205-216), optimum 43 by its file of optima.
func j301(t *testing.T) (p sched.Problem, starts []int) {
	t.Helper()
	minutes := numbers(t, "0 8 4 6 3 8 5 9 2 7 9 2 6 3 9 10 6 5 3 7 2 7 2 3 3 7 8 3 7 2 2 0")
	starts = numbers(t, "0 4 0 0 12 31 4 4 10 6 12 13 4 15 12 13 23 10 18 21 29 29 36 38 28 21 15 35 28 41 38 43")
	// By job from 2 to 31: resource and units.
	demand := numbers(t, "1 4 1 10 4 3 1 3 4 8 1 4 2 1 1 6 4 1 2 5 2 7 1 4 2 8 1 3 4 5 4 8 4 7 2 1 2 10 4 6 1 2 1 3 2 9 1 4 3 4 4 7 2 8 2 7 2 7 3 2")
	successors := `2 3 4|6 11 15|7 8 13|5 9 10|20|30|27|12 19 27|14|16 25|20 26|14|17 18|17|25|21 22|22|20 22|24 29|23 25|28|23|24|30|30|31|28|31|32|32|32`
	for r, c := range []int{12, 13, 4, 12} {
		p.Resources = append(p.Resources, sched.Resource{Name: fmt.Sprintf("R%d", r+1), Capacity: c})
	}
	for j, d := range minutes {
		ph := sched.Phase{Minutes: d}
		if j > 0 && j < 31 {
			ph.Demands = []sched.Demand{{Resource: demand[2*(j-1)] - 1, Units: demand[2*(j-1)+1]}}
		}
		p.Tasks = append(p.Tasks, sched.Task{Name: fmt.Sprint(j + 1), Modes: []sched.Mode{{Phases: []sched.Phase{ph}}}})
	}
	for j, list := range strings.Split(successors, "|") {
		for _, s := range numbers(t, list) {
			p.Lags = append(p.Lags, sched.Lag{From: j, To: s - 1})
		}
	}
	return p, starts
}

func numbers(t *testing.T, s string) []int {
	t.Helper()
	var list []int
	for w := range strings.FieldsSeq(s) {
		var n int
		if _, err := fmt.Sscan(w, &n); err != nil {
			t.Fatal(err)
		}
		list = append(list, n)
	}
	return list
}

// byStarts is the plan of one unbroken phase a task that given starts make.
func byStarts(p sched.Problem, starts []int) sched.Plan {
	plan := sched.Plan{Status: sched.Feasible}
	for j, s := range starts {
		span := sched.Span{Start: s, End: s + p.Tasks[j].Modes[0].Phases[0].Minutes}
		if span.End > span.Start {
			span.Work = []sched.Interval{{Start: span.Start, End: span.End}}
		}
		plan.Tasks = append(plan.Tasks, sched.Placement{Phases: []sched.Span{span}})
		plan.Makespan = max(plan.Makespan, span.End)
	}
	return plan
}

// orderOf lists tasks by start.
func orderOf(starts []int) []int {
	order := make([]int, len(starts))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return starts[a] - starts[b] })
	return order
}

func TestCertificates(t *testing.T) {
	ft, err := psplib.ReadJobShop(strings.NewReader(ft06))
	if err != nil {
		t.Fatal(err)
	}
	j30, j30Starts := j301(t)
	for _, c := range []struct {
		name    string
		p       sched.Problem
		starts  []int
		optimum int
		bound   int // ours
	}{
		// 52: head, load and tail of the most loaded machine, from a separate computation.
		{"FT06", ft, ft06Starts, 55, 52},
		// 38: MPM-Time in the file's own heading.
		{"j301_1", j30, j30Starts, 43, 38},
	} {
		t.Run(c.name, func(t *testing.T) {
			given := byStarts(c.p, c.starts)
			if err := sched.Check(c.p, given); err != nil {
				t.Fatalf("Check(certificate) = %v", err)
			}
			if given.Makespan != c.optimum {
				t.Fatalf("the certificate's makespan is %d, want %d", given.Makespan, c.optimum)
			}
			decoded, err := sched.DecodeList(context.Background(), c.p, sched.List{Order: orderOf(c.starts)})
			if err != nil || decoded.Makespan != c.optimum {
				t.Errorf("DecodeList(optimal order) = %d, %v, want %d", decoded.Makespan, err, c.optimum)
			}
			if err := sched.Check(c.p, decoded); err != nil {
				t.Errorf("Check(decoded) = %v", err)
			}
			for _, rule := range sched.Rules() {
				plan, err := sched.Serial(context.Background(), c.p, rule)
				if err != nil {
					t.Fatalf("Serial(%v) = %v", rule, err)
				}
				if err := sched.Check(c.p, plan); err != nil {
					t.Errorf("Check(Serial(%v)) = %v", rule, err)
				}
				if plan.Makespan < c.optimum {
					t.Errorf("Serial(%v) = %d, under the optimum %d", rule, plan.Makespan, c.optimum)
				}
			}
			if b, _, err := sched.LowerBound(context.Background(), c.p); b != c.bound || err != nil {
				t.Errorf("LowerBound = %d, %v, want %d", b, err, c.bound)
			}
		})
	}
}

// TestShiftedCertificate moves each operation of the FT06 schedule one minute
// earlier: where that overlaps its machine or its job, or falls before zero, the
// checker must say which.
func TestShiftedCertificate(t *testing.T) {
	p, err := psplib.ReadJobShop(strings.NewReader(ft06))
	if err != nil {
		t.Fatal(err)
	}
	caught := 0
	for j := range ft06Starts {
		starts := slices.Clone(ft06Starts)
		starts[j]--
		err := sched.Check(p, byStarts(p, starts))
		if want := clashes(p, starts); (err != nil) != want {
			t.Errorf("operation %d a minute earlier: Check = %v, want a violation: %v", j, err, want)
		}
		if err != nil {
			caught++
		}
	}
	if caught < 18 {
		t.Errorf("only %d of 36 shifts were caught", caught)
	}
}

// clashes judges a job shop by its own definition, pair by pair.
func clashes(p sched.Problem, starts []int) bool {
	end := func(j int) int { return starts[j] + p.Tasks[j].Modes[0].Phases[0].Minutes }
	machine := func(j int) int { return p.Tasks[j].Modes[0].Phases[0].Demands[0].Resource }
	for j := range starts {
		if starts[j] < 0 {
			return true
		}
		for i := range j {
			if (machine(i) == machine(j) || i/6 == j/6) && starts[i] < end(j) && starts[j] < end(i) {
				return true
			}
		}
		if j%6 > 0 && starts[j] < end(j-1) {
			return true
		}
	}
	return false
}
