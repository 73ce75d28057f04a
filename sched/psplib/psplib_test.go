package psplib_test

import (
	"context"
	"encoding/csv"
	"fmt"
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

// TestPublished runs the serial generation, by one rule and by all, over the
// published sets. No plan may
// beat a proven bound, no bound of ours may pass a best known value, every plan
// must pass Check, and what is known to have a plan must not be called
// infeasible, nor the reverse.
func TestPublished(t *testing.T) {
	dir := dataDir(t)
	type tally struct {
		n, planned, none int // none: has a plan, and none was found
		gap              float64
	}
	methods := []struct {
		name string
		run  func(context.Context, sched.Problem) (sched.Plan, error)
	}{
		{"one rule", func(ctx context.Context, p sched.Problem) (sched.Plan, error) {
			return sched.Serial(ctx, p, sched.LatestFinish)
		}},
		{"all rules", sched.BestSerial},
	}
	sums := map[string]*tally{}
	var names []string
	for _, e := range index(t, dir) {
		if strings.Contains(e.file, "flexjobshop") {
			continue
		}
		p := read(t, e)
		for _, m := range methods {
			plan, err := m.run(t.Context(), p)
			if err != nil {
				t.Fatalf("%s: %v", e.name, err)
			}
			name := fmt.Sprintf("%-15s %-9s", e.family, m.name)
			s := sums[name]
			if s == nil {
				s = &tally{}
				sums[name] = s
				names = append(names, name)
			}
			s.n++
			judge(t, e, p, plan)
			switch {
			case plan.Tasks != nil:
				s.planned++
				s.gap += float64(plan.Makespan-e.best) / float64(e.best)
			case !e.infeasible:
				s.none++
			}
			// Without maximum lags a plan can always be found here: the horizon is no
			// constraint, and stocks are searched to the end.
			if plan.Tasks == nil && !strings.HasPrefix(e.family, "rcpspmax") {
				t.Errorf("%s: no plan by %s", e.name, m.name)
			}
		}
	}
	for _, name := range names {
		s := sums[name]
		t.Logf("%s %3d files, %3d planned, %2d not though there is a plan, mean over best known %.1f %%",
			name, s.n, s.planned, s.none, 100*s.gap/float64(max(1, s.planned)))
	}
}

// judge holds one plan against what is published about its problem.
func judge(t *testing.T, e entry, p sched.Problem, plan sched.Plan) {
	t.Helper()
	if plan.Status == sched.Infeasible && !e.infeasible {
		t.Errorf("%s: called infeasible because of %v", e.name, plan.Because)
	}
	if e.hasBest && plan.Bound > e.best {
		t.Errorf("%s: bound %d is over the best known %d", e.name, plan.Bound, e.best)
	}
	if plan.Tasks == nil {
		return
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
}

// TestMachineBound holds our bound to head, load and tail of the most loaded
// machine as computed apart from this package. For la01, 02 and 05 to 10 it
// equals the published optimum (Lawrence 1984; list of Vaessens, Aarts & Lenstra
// 1996), which no true bound may pass and no weaker one reaches.
func TestMachineBound(t *testing.T) {
	dir := dataDir(t)
	want := map[string]int{
		"ft06": 52, "ft10": 796, "la01": 666, "la02": 655, "la03": 588, "la04": 567, "la05": 593,
		"la06": 926, "la07": 890, "la08": 863, "la09": 951, "la10": 958,
	}
	found := 0
	for _, e := range index(t, dir) {
		bound, ok := want[e.name]
		if !ok || e.family != "jobshop" {
			continue
		}
		found++
		got, because, err := sched.LowerBound(context.Background(), read(t, e))
		if err != nil || because != nil || got != bound {
			t.Errorf("LowerBound(%s) = %d, %v, %v, want %d", e.name, got, because, err, bound)
		}
	}
	if found != len(want) {
		t.Errorf("%d of %d instances found", found, len(want))
	}
}

const smallSM = `RESOURCES
  - renewable                 :  1   R
  - nonrenewable              :  1   N
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          1           2
   2        2          0
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  N 1
------------------------------------
  1      1     3       2    0
  2      1     4       0    5
         2     7       1    0
************************************
RESOURCEAVAILABILITIES:
  R 1  N 1
    2    4
************************************
`

func TestReadSM(t *testing.T) {
	p, err := psplib.ReadSM(strings.NewReader(smallSM))
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Tasks) != 2 || len(p.Tasks[1].Modes) != 2 || p.Resources[1].Kind != sched.Consumable || p.Resources[1].Capacity != 4 {
		t.Fatalf("ReadSM = %+v", p)
	}
	plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
	// The short mode wants five of a stock of four: 3 + 7.
	if err != nil || plan.Makespan != 10 || plan.Tasks[1].Mode != 1 {
		t.Errorf("Serial = %+v, %v", plan, err)
	}
}

const smallSCH = `1 1 0 0
0 1 1 1 [2]
1 1 2 0 2 [-5] [4]
2 1 0
0 1 0 0
1 1 4 1
2 1 0 0
1
`

func TestReadSCH(t *testing.T) {
	p, err := psplib.ReadSCH(strings.NewReader(smallSCH))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
	if err != nil || plan.Makespan != 6 || plan.Tasks[1].Start() != 2 {
		t.Errorf("Serial = %+v, %v", plan, err)
	}
}

func TestReadersRefuse(t *testing.T) {
	for _, c := range []struct {
		name, text, says string
		read             func(string) error
	}{
		{"sm empty", "", "no precedence relations", readSM},
		{"sm cut short", smallSM[:200], "row 2 of the precedence relations", readSM},
		{"sm successor", strings.Replace(smallSM, "          2\n", "          9\n", 1), "", readSM},
		{"sm row", strings.Replace(smallSM, "  2      1     4       0    5", "  2      1     4", 1), "row 2 of the requests", readSM},
		{"sch short", "2 1\n0 1 0\n", "line 1", readSCH},
		{"sch word", strings.Replace(smallSCH, "[-5]", "[x]", 1), `line 3: "x" is not a whole number`, readSCH},
		{"sch count", strings.Replace(smallSCH, "1 1 2 0 2", "1 1 3 0 2", 1), "line 3: expected activity 1", readSCH},
		{"job shop empty", "", "empty", readJS},
		{"job shop pairs", "1 2\n0 3 1\n", "line 2: 3 numbers, expected 2 pairs", readJS},
		{"job shop machine", "1 2\n0 3 2 1\n", "no resource 2", readJS},
		{"job shop lines", "2 2\n0 3 1 1\n", "2 jobs", readJS},
	} {
		err := c.read(c.text)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("read(%s) = %v, want %q", c.name, err, c.says)
		}
	}
}

func readSM(s string) error  { _, err := psplib.ReadSM(strings.NewReader(s)); return err }
func readSCH(s string) error { _, err := psplib.ReadSCH(strings.NewReader(s)); return err }
func readJS(s string) error  { _, err := psplib.ReadJobShop(strings.NewReader(s)); return err }

// FuzzReaders: any text gives a valid problem or an error, never a panic.
func FuzzReaders(f *testing.F) {
	for _, s := range []string{smallSM, smallSCH, "1 2\n0 3 1 4\n", "- renewable : 99999 R\nPRECEDENCE RELATIONS:\n1 1 0\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, read := range []func(string) (sched.Problem, error){
			func(s string) (sched.Problem, error) { return psplib.ReadSM(strings.NewReader(s)) },
			func(s string) (sched.Problem, error) { return psplib.ReadSCH(strings.NewReader(s)) },
			func(s string) (sched.Problem, error) { return psplib.ReadJobShop(strings.NewReader(s)) },
		} {
			p, err := read(s)
			if err == nil {
				err = p.Validate()
				if err != nil {
					t.Errorf("read, and not valid: %v", err)
				}
			}
		}
	})
}

func ExampleReadJobShop() {
	p, err := psplib.ReadJobShop(strings.NewReader("2 2\n0 3 1 2\n1 4 0 1\n"))
	if err != nil {
		panic(err)
	}
	plan, err := sched.BestSerial(context.Background(), p)
	fmt.Println(plan.Makespan, err)
	// Output: 6 <nil>
}
