package sched_test

import (
	"context"
	"fmt"
	"strings"

	"scalewright/sched"
)

// clock writes a minute of the plan as day and time, minute 0 being Monday 00:00.
func clock(minute int) string {
	days := [...]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}
	return fmt.Sprintf("%s %02d:%02d", days[minute/sched.Day%7], minute%sched.Day/60, minute%60)
}

// One print that runs overnight and waits on its printer to be cleared, then a
// glue-up with its cure, then sanding over two sessions, by one person who has
// evenings and Saturday.
func Example() {
	const h = 60
	hours := []sched.Interval{{Start: sched.Saturday + 9*h, End: sched.Saturday + 13*h}}
	for day := range 5 {
		hours = append(hours, sched.Interval{Start: day*sched.Day + 18*h, End: day*sched.Day + 21*h})
	}
	free, err := sched.Weekly{Hours: hours, Horizon: 2 * sched.Week}.Calendar()
	if err != nil {
		panic(err)
	}
	const person, printer, clamps = 0, 1, 2
	take := func(r int) sched.Demand { return sched.Demand{Resource: r, Units: 1} }
	keep := func(r int) sched.Demand { return sched.Demand{Resource: r, Units: 1, Keep: true} }
	one := func(phases ...sched.Phase) []sched.Mode { return []sched.Mode{{Phases: phases}} }
	p := sched.Problem{
		Resources: []sched.Resource{{Name: "person", Capacity: 1, Calendar: free}, {Name: "printer", Capacity: 1}, {Name: "clamps", Capacity: 1}},
		Tasks: []sched.Task{
			{Name: "print", Modes: one(
				sched.Phase{Name: "load", Minutes: 10, Demands: []sched.Demand{take(person), keep(printer)}},
				sched.Phase{Name: "run", Minutes: 11 * h, Demands: []sched.Demand{keep(printer)}, MaxWait: new(0)},
				sched.Phase{Name: "clear", Minutes: 15, Demands: []sched.Demand{take(person), take(printer)}})},
			{Name: "glue", Modes: one(
				sched.Phase{Name: "glue up", Minutes: 30, Demands: []sched.Demand{take(person), keep(clamps)}},
				sched.Phase{Name: "cure", Minutes: 24 * h, Work: sched.Elapsed, Demands: []sched.Demand{take(clamps)}, MaxWait: new(0)})},
			{Name: "sand", Modes: one(
				sched.Phase{Name: "sand", Minutes: 4 * h, Work: sched.Splittable, Demands: []sched.Demand{take(person)}})},
		},
		Lags: []sched.Lag{{From: 0, To: 1}, {From: 1, To: 2}},
	}
	plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
	if err != nil {
		panic(err)
	}
	fmt.Println(plan.Status, sched.Check(p, plan))
	for j, pl := range plan.Tasks {
		for k, span := range pl.Phases {
			var work []string
			for _, iv := range span.Work {
				work = append(work, clock(iv.Start)+" – "+clock(iv.End))
			}
			fmt.Printf("%-8s %s\n", p.Tasks[j].Modes[pl.Mode].Phases[k].Name, strings.Join(work, ", "))
		}
	}
	// Output:
	// optimal <nil>
	// load     Mon 18:00 – Mon 18:10
	// run      Mon 18:10 – Tue 05:10
	// clear    Tue 18:00 – Tue 18:15
	// glue up  Tue 18:15 – Tue 18:45
	// cure     Tue 18:45 – Wed 18:45
	// sand     Wed 18:45 – Wed 21:00, Thu 18:00 – Thu 19:45
}

// A second coat goes on within four hours of the first, or later after scuffing:
// two modes, and a lag that binds in the first of them.
func ExampleLag() {
	evening := sched.NewCalendar(sched.Interval{Start: 0, End: 60}, sched.Interval{Start: 600, End: 700})
	person := []sched.Demand{{Resource: 0, Units: 1}}
	mode := func(name string, minutes int) sched.Mode {
		return sched.Mode{Name: name, Phases: []sched.Phase{{Minutes: minutes, Demands: person}}}
	}
	p := sched.Problem{
		Resources: []sched.Resource{{Name: "person", Capacity: 1, Calendar: evening}},
		Tasks: []sched.Task{
			{Name: "first coat", Modes: []sched.Mode{mode("spray", 20)}},
			{Name: "second coat", Modes: []sched.Mode{mode("spray", 20), mode("scuff and spray", 50)}},
		},
		Lags: []sched.Lag{
			{From: 0, To: 1, Min: 30},
			{From: 0, To: 1, Max: new(240), ToModes: []int{0}},
		},
	}
	plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
	if err != nil {
		panic(err)
	}
	second := plan.Tasks[1]
	fmt.Println(p.Tasks[1].Modes[second.Mode].Name, "at", second.Start())
	// Output: scuff and spray at 600
}

func ExampleCheck() {
	p := sched.Problem{
		Resources: []sched.Resource{{Name: "printer", Capacity: 1}},
		Tasks:     make([]sched.Task, 2),
	}
	var plan sched.Plan
	for j := range p.Tasks {
		p.Tasks[j] = sched.Task{Name: string(rune('A' + j)), Modes: []sched.Mode{{Phases: []sched.Phase{
			{Minutes: 30, Demands: []sched.Demand{{Resource: 0, Units: 1}}},
		}}}}
		span := sched.Interval{Start: 20 * j, End: 20*j + 30}
		plan.Tasks = append(plan.Tasks, sched.Placement{Phases: []sched.Span{
			{Start: span.Start, End: span.End, Work: []sched.Interval{span}},
		}})
		plan.Makespan = span.End
	}
	fmt.Println(sched.Check(p, plan))
	// Output: capacity of task 1 (B), phase 0 of resource 0 (printer): 2 units at minute 20, there are 1
}

func ExampleLowerBound() {
	p := sched.Problem{Tasks: []sched.Task{{Name: "cure", Modes: []sched.Mode{{Phases: []sched.Phase{{Minutes: 90}}}}, Deadline: new(60)}}}
	_, because, err := sched.LowerBound(context.Background(), p)
	fmt.Println(p.Describe(because[0]), err)
	// Output: deadline of task 0 (cure) <nil>
}

func ExampleDecodeList() {
	task := func(minutes int) sched.Task {
		return sched.Task{Modes: []sched.Mode{{Phases: []sched.Phase{
			{Minutes: minutes, Demands: []sched.Demand{{Resource: 0, Units: 1}}},
		}}}}
	}
	p := sched.Problem{Resources: []sched.Resource{{Name: "printer", Capacity: 1}}, Tasks: []sched.Task{task(30), task(20)}}
	plan, err := sched.DecodeList(context.Background(), p, sched.List{Order: []int{1, 0}})
	fmt.Println(plan.Tasks[0].Start(), plan.Tasks[1].Start(), plan.Makespan, plan.Status, err)
	// Output: 20 0 50 optimal <nil>
}

func ExampleBestSerial() {
	p := sched.Problem{
		Resources: []sched.Resource{{Name: "printers", Capacity: 2}},
		Tasks:     make([]sched.Task, 3),
	}
	for j, minutes := range []int{30, 30, 60} {
		p.Tasks[j].Modes = []sched.Mode{{Phases: []sched.Phase{{Minutes: minutes, Demands: []sched.Demand{{Resource: 0, Units: 1}}}}}}
	}
	plan, err := sched.BestSerial(context.Background(), p)
	fmt.Println(plan.Makespan, plan.Status, err)
	// Output: 60 optimal <nil>
}

func ExampleWeekly() {
	cal, err := sched.Weekly{
		Hours:      []sched.Interval{{Start: sched.Saturday + 9*60, End: sched.Saturday + 12*60}},
		Offset:     sched.Friday, // the plan begins on a Friday at midnight
		Horizon:    3 * sched.Week,
		Exceptions: []sched.Exception{{Interval: sched.Interval{Start: sched.Week, End: sched.Week + 2*sched.Day}}},
	}.Calendar()
	fmt.Println(cal.Intervals(), cal.Total(), err)
	// Output: [[1980,2160) [22140,22320)] 360 <nil>
}
