package psplib

import (
	"fmt"
	"io"

	"scalewright/sched"
)

// ReadJobShop reads a job shop: "jobs machines", then a line a job of "machine
// duration" pairs, machines from 0. Operation o of job j is task j*machines + o.
func ReadJobShop(r io.Reader) (sched.Problem, error) {
	lines, err := readLines(r)
	if err != nil {
		return sched.Problem{}, err
	}
	if len(lines) == 0 {
		return sched.Problem{}, fmt.Errorf("the text is empty")
	}
	head, err := lines[0].counted(2, "the heading")
	if err != nil {
		return sched.Problem{}, err
	}
	jobs, machines := head[0], head[1]
	if jobs < 1 || machines < 1 || machines > maxTasks || len(lines) != jobs+1 {
		return sched.Problem{}, fmt.Errorf("line 1: %d jobs on %d machines, %d lines of jobs", jobs, machines, len(lines)-1)
	}
	var p sched.Problem
	for m := range machines {
		p.Resources = append(p.Resources, sched.Resource{Name: fmt.Sprintf("M%d", m), Capacity: 1})
	}
	for j, l := range lines[1:] {
		row, err := l.ints()
		if err != nil {
			return sched.Problem{}, err
		}
		if len(row) != 2*machines {
			return sched.Problem{}, fmt.Errorf("line %d: %d numbers, expected %d pairs", l.n, len(row), machines)
		}
		for o := range machines {
			machine, minutes := row[2*o], row[2*o+1]
			ph := sched.Phase{Minutes: minutes, Demands: []sched.Demand{{Resource: machine, Units: 1}}}
			p.Tasks = append(p.Tasks, sched.Task{
				Name: fmt.Sprintf("J%d.%d", j+1, o+1), Modes: []sched.Mode{{Phases: []sched.Phase{ph}}},
			})
			if o > 0 {
				p.Lags = append(p.Lags, sched.Lag{From: len(p.Tasks) - 2, To: len(p.Tasks) - 1})
			}
		}
	}
	return valid(p)
}
