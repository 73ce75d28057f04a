package sched_test

import (
	"context"
	"testing"

	"scalewright/sched"
)

// workshop is a problem of the size of a real build: n pieces, each printed on
// one of two printers (loaded, run, kept until cleared), then glued with cure and
// sanded by one person who works evenings and Saturdays.
func workshop(pieces int) sched.Problem {
	const h = 60
	var hours []sched.Interval
	for day := range 5 {
		hours = append(hours, sched.Interval{Start: day*sched.Day + 18*h, End: day*sched.Day + 22*h})
	}
	hours = append(hours, sched.Interval{Start: sched.Saturday + 9*h, End: sched.Saturday + 17*h})
	cal, err := sched.Weekly{Hours: hours, Horizon: 104 * sched.Week}.Calendar()
	if err != nil {
		panic(err)
	}
	p := sched.Problem{Resources: []sched.Resource{
		{Name: "person", Capacity: 1, Calendar: cal},
		{Name: "large printer", Capacity: 1},
		{Name: "small printer", Capacity: 1},
		{Name: "clamps", Capacity: 3},
	}}
	person := sched.Demand{Resource: 0, Units: 1}
	for i := range pieces {
		run := 5*h + i*97%(9*h)
		var modes []sched.Mode
		for printer := 1; printer <= 2; printer++ {
			kept := sched.Demand{Resource: printer, Units: 1, Keep: true}
			modes = append(modes, sched.Mode{Phases: []sched.Phase{
				{Name: "load", Minutes: 10, Demands: []sched.Demand{person, kept}},
				{Name: "run", Minutes: run, Demands: []sched.Demand{kept}, MaxWait: new(0)},
				{Name: "clear", Minutes: 10, Demands: []sched.Demand{person, {Resource: printer, Units: 1}}},
			}})
		}
		clamp := sched.Demand{Resource: 3, Units: 1}
		kept := sched.Demand{Resource: 3, Units: 1, Keep: true}
		glue := sched.Mode{Phases: []sched.Phase{
			{Name: "glue", Minutes: 25, Demands: []sched.Demand{person, kept}},
			{Name: "cure", Minutes: 12 * h, Work: sched.Elapsed, Demands: []sched.Demand{clamp}, MaxWait: new(0)},
		}}
		sand := sched.Mode{Phases: []sched.Phase{{Name: "sand", Minutes: 90, Work: sched.Splittable, Demands: []sched.Demand{person}}}}
		n := len(p.Tasks)
		p.Tasks = append(
			p.Tasks,
			sched.Task{Name: "print", Modes: modes},
			sched.Task{Name: "glue", Modes: []sched.Mode{glue}},
			sched.Task{Name: "sand", Modes: []sched.Mode{sand}},
		)
		p.Lags = append(p.Lags, sched.Lag{From: n, To: n + 1}, sched.Lag{From: n + 1, To: n + 2})
		if i > 0 { // pieces are glued in their order
			p.Lags = append(p.Lags, sched.Lag{From: n - 2, To: n + 1})
		}
	}
	return p
}

// BenchmarkSerial300 plans 100 pieces in 300 tasks.
func BenchmarkSerial300(b *testing.B) {
	p := workshop(100)
	b.ReportAllocs()
	for b.Loop() {
		plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
		if err != nil || plan.Tasks == nil {
			b.Fatal(plan.Status, err)
		}
	}
}

// BenchmarkCheck300 judges that plan.
func BenchmarkCheck300(b *testing.B) {
	p := workshop(100)
	plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := sched.Check(p, plan); err != nil {
			b.Fatal(err)
		}
	}
}
