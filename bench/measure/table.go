package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
)

// item is a row of the accuracy table: what is measured, its goal, and whether a
// photograph meets it.
type item struct {
	name, head, goal string
	digits           int
	of               func(s *score) float64
	meets            func(v float64, s *score) bool
}

func atMost(limit float64) func(float64, *score) bool {
	return func(v float64, _ *score) bool { return v <= limit }
}

func atLeast(limit float64) func(float64, *score) bool {
	return func(v float64, _ *score) bool { return v >= limit }
}

// items is the whole accuracy table; every print of it is made from this list.
var items = []item{
	{"grid found without clicks", "grid", "all", 0, func(s *score) float64 { return s.Found }, atLeast(1)},
	{"its pitch right", "pitch", "all", 0, func(s *score) float64 { return s.Pitch }, atLeast(1)},
	{"crossings, rms px", "cross px", "≤ 0.10", 3, func(s *score) float64 { return s.Crossings }, atMost(0.10)},
	{"mat map, rms mm", "mat mm", "≤ 0.03", 3, func(s *score) float64 { return s.Mat }, atMost(0.03)},
	{"silhouette, shared over joined", "IoU", "≥ 0.995", 4, func(s *score) float64 { return s.IoU }, atLeast(0.995)},
	{"silhouette's edge, median px", "edge50", "≤ 0.3", 2, func(s *score) float64 { return s.Edge50 }, atMost(0.3)},
	{"silhouette's edge, p95 px", "edge95", "≤ 1", 2, func(s *score) float64 { return s.Edge95 }, atMost(1)},
	{"profile found", "profile", "all", 0, func(s *score) float64 { return s.Profile }, atLeast(1)},
	{"silent faults", "silent", "none", 0, func(s *score) float64 { return s.Silent }, atMost(0)},
	{"radius clear of steps, rms mm", "r rms", "≤ 0.10", 3, func(s *score) float64 { return s.RMS }, atMost(0.10)},
	{"radius, p95 mm", "r p95", "≤ 0.20", 3, func(s *score) float64 { return s.P95 }, atMost(0.20)},
	{"radius, worst mm", "r max", "≤ 0.40", 3, func(s *score) float64 { return s.Worst }, atMost(0.40)},
	{"length, mm off", "length", "≤ 0.3 or 0.15 %", 3, func(s *score) float64 { return s.Length }, func(v float64, s *score) bool { return v <= s.Allowed }},
	{"axis height, mm off (finless)", "height", "≤ 0.2", 2, func(s *score) float64 { return s.Height }, atMost(0.2)},
	{"axis slope, degrees off (finless)", "slope", "≤ 0.2", 2, func(s *score) float64 { return s.Slope }, atMost(0.2)},
	{"corners, station rms mm", "corner s", "≤ 0.3", 2, func(s *score) float64 { return s.CornerS }, atMost(0.3)},
	{"corners, radius rms mm", "corner r", "≤ 0.15", 2, func(s *score) float64 { return s.CornerR }, atMost(0.15)},
	{"observable segments of the right kind, %", "kinds %", "≥ 95", 0, func(s *score) float64 { return s.Kinds }, atLeast(95)},
	{"spurious segments", "spurious", "≤ 1", 0, func(s *score) float64 { return s.Spurious }, atMost(1)},
	{"arc radius, worst % off (arcs of 30° and more)", "arc %", "≤ 2", 1, func(s *score) float64 { return s.Radii }, atMost(2)},
	{"truth inside ±2u, %", "in 2u %", "90 to 99", 1, func(s *score) float64 { return s.Inside }, func(v float64, _ *score) bool { return v >= 90 && v <= 99 }},
	{"median 2u, mm", "2u mm", "≤ 0.4", 3, func(s *score) float64 { return s.TwoU }, atMost(0.4)},
	{"time, s", "s", "≤ 5", 2, func(s *score) float64 { return s.Seconds }, atMost(5)},
	{"memory, MiB", "MiB", "≤ 1024", 0, func(s *score) float64 { return s.Memory }, atMost(1024)},
}

func figure(v float64, digits int) string {
	if math.IsNaN(v) {
		return "-"
	}
	return fmt.Sprintf("%.*f", digits, v)
}

// table prints every photograph's figures, then the whole against the goals, then
// the same by trap.
func table(w io.Writer, scores []score) error {
	t := tabwriter.NewWriter(w, 0, 4, 1, ' ', 0)
	fmt.Fprint(t, "photograph")
	for _, it := range items {
		fmt.Fprintf(t, "\t%s", it.head)
	}
	fmt.Fprint(t, "\tfindings; traps\ngoal")
	for _, it := range items {
		fmt.Fprintf(t, "\t%s", strings.ReplaceAll(it.goal, " or 0.15 %", "*"))
	}
	fmt.Fprintln(t)
	for i := range scores {
		s := &scores[i]
		fmt.Fprint(t, s.Name)
		for _, it := range items {
			v := it.of(s)
			mark := ""
			if !math.IsNaN(v) && !it.meets(v, s) {
				mark = "!"
			}
			fmt.Fprintf(t, "\t%s%s", figure(v, it.digits), mark)
		}
		fmt.Fprintf(t, "\t%s; %s\n", strings.Join(s.Codes, " "), strings.Join(s.Traps, ", "))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "\n%d photographs\n", len(scores))
	if err := summary(w, scores); err != nil {
		return err
	}
	return byTrap(w, scores)
}

// values are the figures of an item that there are, in order, and how many of them
// meet the goal.
func (it *item) values(scores []score) (v []float64, met int) {
	for i := range scores {
		x := it.of(&scores[i])
		if math.IsNaN(x) {
			continue
		}
		v = append(v, x)
		if it.meets(x, &scores[i]) {
			met++
		}
	}
	slices.Sort(v)
	return v, met
}

func summary(w io.Writer, scores []score) error {
	t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	fmt.Fprintln(t, "item\tgoal\tmet on\tof\tmedian\t9 of 10 within\tworst")
	for _, it := range items {
		v, met := it.values(scores)
		if len(v) == 0 {
			fmt.Fprintf(t, "%s\t%s\t-\t0\n", it.name, it.goal)
			continue
		}
		low, high := v[len(v)*9/10], v[len(v)-1]
		if !it.meets(0, &score{}) { // more is better
			low, high = v[len(v)/10], v[0]
		}
		fmt.Fprintf(t, "%s\t%s\t%d\t%d\t%s\t%s\t%s\n", it.name, it.goal, met, len(v),
			figure(v[len(v)/2], it.digits), figure(low, it.digits), figure(high, it.digits))
	}
	return t.Flush()
}

// byTrap prints for each trap how many photographs meet each goal, of those with an
// answer, and the medians below.
func byTrap(w io.Writer, scores []score) error {
	groups := map[string][]score{}
	var names []string
	for _, s := range scores {
		for _, trap := range s.Traps {
			if groups[trap] == nil {
				names = append(names, trap)
			}
			groups[trap] = append(groups[trap], s)
		}
	}
	if len(names) == 0 {
		return nil
	}
	slices.Sort(names)
	t := tabwriter.NewWriter(w, 0, 4, 1, ' ', 0)
	fmt.Fprint(t, "\ntrap: goals met, of those answered\tphotos")
	for _, it := range items {
		fmt.Fprintf(t, "\t%s", it.head)
	}
	fmt.Fprintln(t)
	for _, name := range names {
		fmt.Fprintf(t, "%s\t%d", name, len(groups[name]))
		var medians strings.Builder
		medians.WriteString("\n   medians\t")
		for _, it := range items {
			v, met := it.values(groups[name])
			if len(v) == 0 {
				fmt.Fprint(t, "\t-")
				medians.WriteString("\t-")
				continue
			}
			fmt.Fprintf(t, "\t%d/%d", met, len(v))
			medians.WriteString("\t" + figure(v[len(v)/2], it.digits))
		}
		fmt.Fprintln(t, medians.String())
	}
	return t.Flush()
}
