package psplib

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"scalewright/sched"
)

// maxTasks bounds what a file may announce before it is believed.
const maxTasks = 100_000

// line is one line's words with its number.
type line struct {
	n     int
	words []string
}

// readLines splits a text into the lines that have words.
func readLines(r io.Reader) ([]line, error) {
	var lines []line
	sc := bufio.NewScanner(r)
	sc.Buffer(nil, 1<<20)
	for n := 1; sc.Scan(); n++ {
		if words := strings.Fields(sc.Text()); len(words) > 0 {
			lines = append(lines, line{n, words})
		}
	}
	if err := sc.Err(); err != nil {
		return nil, fmt.Errorf("read text: %w", err)
	}
	return lines, nil
}

// ints reads all words of a line as whole numbers.
func (l line) ints() ([]int, error) {
	nums := make([]int, len(l.words))
	for i, w := range l.words {
		v, err := strconv.Atoi(w)
		if err != nil {
			return nil, fmt.Errorf("line %d: %q is not a whole number", l.n, w)
		}
		nums[i] = v
	}
	return nums, nil
}

// counted is ints, refused where there are fewer than least.
func (l line) counted(least int, what string) ([]int, error) {
	nums, err := l.ints()
	if err == nil && len(nums) < least {
		err = fmt.Errorf("line %d: %s takes %d numbers, found %d", l.n, what, least, len(nums))
	}
	return nums, err
}

// phase makes the one phase of a benchmark activity's mode.
func phase(minutes int, units []int) sched.Mode {
	ph := sched.Phase{Minutes: minutes}
	for r, u := range units {
		if u != 0 {
			ph.Demands = append(ph.Demands, sched.Demand{Resource: r, Units: u})
		}
	}
	return sched.Mode{Phases: []sched.Phase{ph}}
}

// valid is the last step of every reader.
func valid(p sched.Problem) (sched.Problem, error) {
	if err := p.Validate(); err != nil {
		return sched.Problem{}, fmt.Errorf("what was read is no problem: %w", err)
	}
	return p, nil
}
