package psplib

import (
	"fmt"
	"io"
	"strings"

	"scalewright/sched"
)

// ReadSM reads a .sm or .mm text. Renewable resources come first, then
// non-renewable ones as consumables. The horizon stated in the file is not
// taken over: it is a sum of durations, which DefaultHorizon gives as well.
func ReadSM(r io.Reader) (sched.Problem, error) {
	lines, err := readLines(r)
	if err != nil {
		return sched.Problem{}, err
	}
	s := smReader{lines: lines}
	for s.at < len(s.lines) {
		l := s.lines[s.at]
		s.at++
		switch head := strings.Join(l.words, " "); {
		case strings.HasPrefix(head, "- renewable"):
			s.renewable, err = countOf(l)
		case strings.HasPrefix(head, "- nonrenewable"):
			s.consumable, err = countOf(l)
		case strings.HasPrefix(head, "PRECEDENCE RELATIONS"):
			err = s.precedence()
		case strings.HasPrefix(head, "REQUESTS/DURATIONS"):
			err = s.requests()
		case strings.HasPrefix(head, "RESOURCEAVAILABILITIES"), strings.HasPrefix(head, "RESOURCE AVAILABILITIES"):
			err = s.availabilities()
		}
		if err != nil {
			return sched.Problem{}, err
		}
	}
	if len(s.p.Tasks) == 0 || s.p.Resources == nil {
		return sched.Problem{}, fmt.Errorf("no precedence relations, requests and availabilities found")
	}
	return valid(s.p)
}

// countOf reads the number in "- renewable : 4 R".
func countOf(l line) (int, error) {
	for _, w := range l.words {
		var n int
		if _, err := fmt.Sscanf(w, "%d", &n); err == nil && n >= 0 && n <= maxTasks {
			return n, nil
		}
	}
	return 0, fmt.Errorf("line %d: no number of resources", l.n)
}

type smReader struct {
	lines                 []line
	at                    int
	renewable, consumable int
	p                     sched.Problem
}

// table reads lines of numbers up to the next that is not, the heading and rule
// before them skipped.
func (s *smReader) table() [][]int {
	var rows [][]int
	for ; s.at < len(s.lines); s.at++ {
		nums, err := s.lines[s.at].ints()
		switch {
		case err == nil:
			rows = append(rows, nums)
		case len(rows) > 0:
			return rows
		case strings.HasPrefix(s.lines[s.at].words[0], "***"):
			return rows
		}
	}
	return rows
}

func (s *smReader) precedence() error {
	line := s.lines[s.at-1].n
	for i, row := range s.table() {
		if len(row) < 3 || row[0] != i+1 || row[2] < 0 || len(row) != 3+row[2] {
			return fmt.Errorf("after line %d: row %d of the precedence relations is not \"job modes count successors\"", line, i+1)
		}
		s.p.Tasks = append(s.p.Tasks, sched.Task{Name: fmt.Sprint(i + 1)})
		for _, succ := range row[3:] {
			s.p.Lags = append(s.p.Lags, sched.Lag{From: i, To: succ - 1})
		}
	}
	return nil
}

func (s *smReader) requests() error {
	line, job := s.lines[s.at-1].n, 0
	columns := s.renewable + s.consumable
	for i, row := range s.table() {
		if len(row) == columns+3 { // a job's first mode names the job
			job, row = row[0], row[1:]
		}
		if len(row) != columns+2 || job < 1 || job > len(s.p.Tasks) {
			return fmt.Errorf("after line %d: row %d of the requests is not \"job mode duration\" and %d amounts", line, i+1, columns)
		}
		t := &s.p.Tasks[job-1]
		t.Modes = append(t.Modes, phase(row[1], row[2:]))
	}
	return nil
}

func (s *smReader) availabilities() error {
	line := s.lines[s.at-1].n
	rows := s.table()
	if len(rows) == 0 || len(rows[0]) != s.renewable+s.consumable {
		return fmt.Errorf("after line %d: expected %d availabilities", line, s.renewable+s.consumable)
	}
	s.p.Resources = []sched.Resource{}
	for r, n := range rows[0] {
		res := sched.Resource{Name: fmt.Sprintf("R%d", r+1), Capacity: n}
		if r >= s.renewable {
			res.Name, res.Kind = fmt.Sprintf("N%d", r+1-s.renewable), sched.Consumable
		}
		s.p.Resources = append(s.p.Resources, res)
	}
	return nil
}
