package psplib

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"scalewright/sched"
)

// ReadSCH reads a ProGen/max text: activities 0 to n+1 with start-to-start lags
// in brackets, a negative one being a maximum lag written backwards, then their
// durations and requests, then the capacities. Only one mode is taken.
func ReadSCH(r io.Reader) (sched.Problem, error) {
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
	n, resources := head[0]+2, head[1]
	if head[0] < 0 || head[0] > maxTasks || resources < 0 || len(lines) != 2*n+2 {
		return sched.Problem{}, fmt.Errorf("line 1: %d activities make %d lines, found %d", head[0], 2*n+2, len(lines))
	}
	var p sched.Problem
	for i, l := range lines[1 : n+1] {
		lags, err := schLags(l, i)
		if err != nil {
			return sched.Problem{}, err
		}
		p.Lags = append(p.Lags, lags...)
	}
	for i, l := range lines[n+1 : 2*n+1] {
		row, err := l.counted(3+resources, "an activity")
		if err != nil {
			return sched.Problem{}, err
		}
		if row[0] != i || row[1] != 1 || len(row) != 3+resources {
			return sched.Problem{}, fmt.Errorf("line %d: expected activity %d, mode 1, duration and %d requests", l.n, i, resources)
		}
		p.Tasks = append(p.Tasks, sched.Task{Name: strconv.Itoa(i), Modes: []sched.Mode{phase(row[2], row[3:])}})
	}
	caps, err := lines[2*n+1].counted(resources, "the capacities")
	if err != nil {
		return sched.Problem{}, err
	}
	for r := range resources {
		p.Resources = append(p.Resources, sched.Resource{Name: fmt.Sprintf("R%d", r+1), Capacity: caps[r]})
	}
	return valid(p)
}

// schLags reads "activity modes count successors [lag] …".
func schLags(l line, activity int) ([]sched.Lag, error) {
	bad := fmt.Errorf("line %d: expected activity %d as \"activity 1 count successors [lags]\"", l.n, activity)
	plain := line{l.n, strings.Fields(strings.NewReplacer("[", " ", "]", " ").Replace(strings.Join(l.words, " ")))}
	row, err := plain.counted(3, "an activity")
	if err != nil {
		return nil, err
	}
	if row[0] != activity || row[1] != 1 || row[2] < 0 || len(row) != 3+2*row[2] {
		return nil, bad
	}
	var lags []sched.Lag
	for k := range row[2] {
		lags = append(lags, sched.Lag{
			From: activity, To: row[3+k], Kind: sched.StartStart, Min: row[3+row[2]+k],
		})
	}
	return lags, nil
}
