package psplib_test

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"scalewright/sched"
	"scalewright/sched/psplib"
)

// dataDir is where the published benchmark files are, which are not ours to
// ship; the test is skipped where they are absent.
func dataDir(t *testing.T) string {
	t.Helper()
	dir := filepath.Join("..", "..", "..", "shared", "data", "scheduling")
	if _, err := os.Stat(filepath.Join(dir, "index.csv")); err != nil {
		t.Skipf("benchmark files are not here: %v", err)
	}
	return dir
}

type entry struct {
	family, name, file  string
	tasks, lower, best  int
	infeasible, hasBest bool
}

func index(t *testing.T, dir string) []entry {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, "index.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []entry
	for _, r := range rows[1:] {
		e := entry{family: r[0], name: r[1], file: filepath.Join(dir, r[2])}
		e.tasks, _ = strconv.Atoi(r[3])
		e.lower, _ = strconv.Atoi(r[5])
		var err error
		e.best, err = strconv.Atoi(r[6])
		e.hasBest = err == nil
		e.infeasible = r[7] == "infeasible"
		list = append(list, e)
	}
	return list
}

func read(t *testing.T, e entry) sched.Problem {
	t.Helper()
	f, err := os.Open(e.file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	reader := psplib.ReadSM
	switch {
	case strings.HasSuffix(e.file, ".sch"):
		reader = psplib.ReadSCH
	case strings.Contains(e.file, "jobshop") && !strings.Contains(e.file, "flexjobshop"):
		reader = psplib.ReadJobShop
	}
	p, err := reader(f)
	if err != nil {
		t.Fatalf("%s: %v", e.name, err)
	}
	return p
}

// TestPublished runs the serial generation over the published sets. No plan may
// beat a proven bound, no bound of ours may pass a best known value, every plan
// must pass Check, and what is known to have a plan must not be called
// infeasible, nor the reverse.
func TestPublished(t *testing.T) {
	dir := dataDir(t)
	type tally struct {
		n, planned, unknown int
		gap                 float64
	}
	sums := map[string]*tally{}
	var families []string
	for _, e := range index(t, dir) {
		if strings.Contains(e.file, "flexjobshop") {
			continue
		}
		p := read(t, e)
		rule := sched.LatestFinish
		plan, err := sched.Serial(context.Background(), p, rule)
		if err != nil {
			t.Fatalf("%s: %v", e.name, err)
		}
		s := sums[e.family]
		if s == nil {
			s = &tally{}
			sums[e.family] = s
			families = append(families, e.family)
		}
		s.n++
		if plan.Status == sched.Infeasible && !e.infeasible {
			t.Errorf("%s: called infeasible because of %v", e.name, plan.Because)
		}
		if e.hasBest && plan.Bound > e.best {
			t.Errorf("%s: bound %d is over the best known %d", e.name, plan.Bound, e.best)
		}
		if plan.Tasks == nil {
			s.unknown++
			continue
		}
		if e.infeasible {
			t.Errorf("%s: has a plan and should not", e.name)
		}
		if err := sched.Check(p, plan); err != nil {
			t.Errorf("%s: %v", e.name, err)
		}
		if plan.Makespan < e.lower {
			t.Errorf("%s: makespan %d is under the proven bound %d", e.name, plan.Makespan, e.lower)
		}
		if plan.Status == sched.Optimal && e.hasBest && plan.Makespan != e.best {
			t.Errorf("%s: %d is called optimal, the best known is %d", e.name, plan.Makespan, e.best)
		}
		s.planned++
		if e.best > 0 {
			s.gap += float64(plan.Makespan-e.best) / float64(e.best)
		}
	}
	for _, f := range families {
		s := sums[f]
		t.Logf("%-10s %3d files, %3d planned, %2d without, mean over best known %.1f %%", f, s.n, s.planned, s.unknown, 100*s.gap/float64(max(1, s.planned)))
	}
}
