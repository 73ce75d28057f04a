package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"

	"scalewright/model"
	"scalewright/unit"
)

// No single print or act takes longer, and none uses more, than this: past it a
// digit was typed twice.
const (
	mostMinutes = unit.Minutes(14 * 24 * 60)
	mostGrams   = 50_000.0
	mostMoney   = 1e6
)

// bounds refuses figures that nobody means.
func (c *logCmd) bounds() error {
	if c.Minutes < 0 || unit.Minutes(c.Minutes) > mostMinutes {
		return &usageError{fmt.Sprintf("%d minutes is not a duration of one act", c.Minutes), "give whole minutes, up to two weeks"}
	}
	if math.IsNaN(c.Grams) || c.Grams < 0 || c.Grams > mostGrams {
		return &usageError{fmt.Sprintf("%v g is not what one print takes", c.Grams), "give grams, up to 50 kg"}
	}
	return nil
}

// work is the id of work that the plan knows.
func (c *logCmd) work(ctx context.Context, f *face, o *opened) (string, error) {
	id, err := c.only("the id of the work, such as saw.core or join.tail-body; calendar.ics has them")
	if err != nil {
		return "", err
	}
	result, err := f.unblocked(ctx, o)
	if err != nil {
		return "", err
	}
	var known []string
	for _, t := range result.Calendar.Tasks {
		if t.ID == id {
			return id, nil
		}
		known = append(known, t.ID)
	}
	return "", &usageError{fmt.Sprintf("no work %q is left to do", id), hint(id, known)}
}

// photo is a file that is there, in the build's folder or by its path.
func (c *logCmd) photo() (string, error) {
	name, err := c.only("a file")
	if err != nil {
		return "", err
	}
	for _, at := range []string{filepath.Join(c.Dir, name), name} {
		if info, err := os.Stat(at); err == nil && !info.IsDir() {
			return name, nil
		}
	}
	return "", &usageError{fmt.Sprintf("there is no file %q", name), "give a file of the build's folder, or its path"}
}

// withdrawn is the number of an event that may be taken back.
func (c *logCmd) withdrawn(o *opened) (int, error) {
	text, err := c.only("the number of an event")
	if err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > len(o.loaded.Events) {
		return 0, &usageError{fmt.Sprintf("the log has no event %s", text), fmt.Sprintf("give a number from 1 to %d; log.jsonl has them", len(o.loaded.Events))}
	}
	switch e := o.loaded.Events[n-1]; e.Kind {
	case model.Released:
		return 0, &usageError{fmt.Sprintf("event %d released %s, and what is made is a fact", n, e.Label), "log it as failed if it cannot be used"}
	case model.Withdrawn:
		return 0, &usageError{fmt.Sprintf("event %d takes another back", n), "log the other one again"}
	}
	return n, nil
}
