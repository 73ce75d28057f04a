package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/formats"
)

// made runs make on a copy of an example and returns the folder of its results.
func made(t *testing.T, example string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), example)
	if err := os.CopyFS(dir, os.DirFS("../../examples/"+example)); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Join(dir, "out")); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	if status := run(t.Context(), []string{"make", dir}, &said, &said); status != exitDone {
		t.Fatalf("make: exit status %d\n%s", status, said.String())
	}
	return filepath.Join(dir, "out")
}

// report is what the test reads of report.json.
type report struct {
	Pieces []struct {
		ID      string `json:"id"`
		Printer string `json:"printer"`
	} `json:"pieces"`
	Verdict struct {
		Prints int `json:"prints"`
	} `json:"verdict"`
}

// The same files give the same bytes, at one core and at many.
func TestDemo(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	out := made(t, "foyer-rocket")
	runtime.GOMAXPROCS(8)
	if diff := cmp.Diff(sums(t, out), sums(t, made(t, "foyer-rocket"))); diff != "" {
		t.Errorf("GOMAXPROCS 1 and 8 differ (-1 +8):\n%s", diff)
	}
	// Build volumes as examples/foyer-rocket/shop.yaml has them, mm.
	used := checkMade(t, out, map[string][3]float64{"heron": {300, 300, 400}, "wren": {220, 220, 250}})
	for _, name := range []string{"heron", "wren"} {
		if used[name] == 0 {
			t.Errorf("nothing is printed on %s", name)
		}
	}
	t.Run("controller", func(t *testing.T) { controllerBuilds(t, filepath.Join(out, "controller")) })
}

// Photographs as hard as one can take, nothing picked: a plumb bob polished, on black, its
// needle on a printed line; a dart that lies on two of three fins; a handle that mirrors the
// ruler it lies against; a lever on a mat of which nothing says the step; a bottle whose neck
// lies across a ruler of its own colour; another one side of whose edge strays; a plumb bob as
// green as its mat. What the drawing of them knows is what must come out: a cylinder or a cone
// that each has.
func TestHardPhotograph(t *testing.T) {
	for build, is := range map[string]struct {
		from, to, radius, slope float64
		long                    bool // by bench/run only
	}{
		"plumb-bob":      {60, 76, 14.7, 0, true},       // in truth from station 56.1 to 80.2
		"dart":           {64, 78, 8.6, 0, true},        // from 63.0 to 79.2; a body that lies too high looks too narrow
		"brass-handle":   {84, 109, 17.14, 0.106, true}, // from 81.7 to 111.0; one side was found 0.6 mm too far in
		"lock-lever":     {14, 40, 14.8, 0, true},       // from 10.2 to 42.6; by heavier lines alone
		"ink-bottle":     {56, 98, 16.9, 0, true},       // from 52.3 to 102; its neck on a ruler as white as it is
		"garden-bob":     {20, 50, 6.4, 0.28, false},    // from 0 to 53.6; by its edge the needle was 5 mm shorter
		"cordial-bottle": {7, 53, 21.8, 0, false},       // from 4.5 to 54.8; a notch of 1.6 mm in one side's edge is none
	} {
		if testing.Short() && is.long {
			continue
		}
		out := made(t, build)
		checkMade(t, out, map[string][3]float64{"first": {350, 350, 400}})
		text, err := os.ReadFile(filepath.Join(out, "report.json"))
		if err != nil {
			t.Fatal(err)
		}
		var r struct {
			Trace struct {
				Profile []struct {
					Station float64 `json:"station_mm"`
					Radius  float64 `json:"radius_mm"`
					U       float64 `json:"u_mm"`
				} `json:"profile"`
			} `json:"trace"`
		}
		if err := json.Unmarshal(text, &r); err != nil {
			t.Fatal(err)
		}
		inside, all := 0, 0
		for _, p := range r.Trace.Profile {
			if p.Station > is.from && p.Station < is.to {
				all++
				if d := p.Radius - is.radius - is.slope*(p.Station-is.from); d > -2*p.U && d < 2*p.U {
					inside++
				}
			}
		}
		if all < 20 || 10*inside < 9*all {
			t.Errorf("%s: %d of %d radii lie within twice their doubt", build, inside, all)
		}
	}
}

// controllerBuilds makes the controller's program as a maker does, in its folder
// with its own Makefile, and finds its wiring beside it.
func controllerBuilds(t *testing.T, folder string) {
	for _, tool := range []string{"avr-gcc", "make"} {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("SCALEWRIGHT_AVR") == "must" {
				t.Fatal(err)
			}
			t.Skipf("%s is not here; install gcc-avr, avr-libc and make", tool)
		}
	}
	if said, err := exec.CommandContext(t.Context(), "make", "-C", folder).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	if hex, err := os.ReadFile(filepath.Join(folder, "controller.hex")); err != nil || !bytes.HasPrefix(hex, []byte(":10")) {
		t.Errorf("controller.hex begins with %.20q: %v", hex, err)
	}
	wiring, err := os.ReadFile(filepath.Join(folder, "wiring.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"brain-glow", "DIN, GND", "330 to 470", "1000 µF", "Fuse: "} {
		if !bytes.Contains(wiring, []byte(want)) {
			t.Errorf("wiring.txt has no %q", want)
		}
	}
}

// A slender bored post, many pieces, two accepted cuts, a ball that comes off.
func TestNewelPost(t *testing.T) {
	small := [3]float64{180, 180, 180}
	checkMade(t, made(t, "newel-post"), map[string][3]float64{"heron": small, "wren": small})
}

// A handle on an axis that leans 35° with two flat vanes; flat parts only, with no
// body and no core; a mesh, hollowed, bored for a dowel and divided. Each comes out
// the same on one core and on eight.
func TestForms(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for _, name := range []string{"angled-handle", "letters", "acorn", "harbour-light"} {
		runtime.GOMAXPROCS(1)
		one := made(t, name)
		checkMade(t, one, map[string][3]float64{"heron": {220, 220, 250}, "wren": {180, 180, 180}, "first": {350, 350, 400}})
		runtime.GOMAXPROCS(8)
		if diff := cmp.Diff(sums(t, one), sums(t, made(t, name))); diff != "" {
			t.Errorf("%s: GOMAXPROCS 1 and 8 differ (-1 +8):\n%s", name, diff)
		}
	}
}

// checkMade holds the results of a build to what every build must give, and
// counts the prints of each printer.
func checkMade(t *testing.T, out string, volumes map[string][3]float64) map[string]int {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(out, "report.json"))
	if err != nil {
		t.Fatal(err)
	}
	var r report
	if err := json.Unmarshal(text, &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Pieces) == 0 || len(r.Pieces) != r.Verdict.Prints {
		t.Fatalf("%d pieces, verdict says %d prints", len(r.Pieces), r.Verdict.Prints)
	}
	used := map[string]int{}
	for _, p := range r.Pieces {
		used[p.Printer]++
		file, err := os.Open(filepath.Join(out, "pieces", p.ID+".stl"))
		if err != nil {
			t.Fatal(err)
		}
		mesh, err := formats.ReadSTL(file, formats.Limits{})
		file.Close()
		if err != nil {
			t.Errorf("%s: %v", p.ID, err)
			continue
		}
		if faults := mesh.Check(); len(faults) > 0 {
			t.Errorf("%s is not closed: %v", p.ID, faults[0])
		}
		box := mesh.Bounds()
		for k, most := range volumes[p.Printer] {
			if box.Min[k] < 0 || box.Max[k] > most {
				t.Errorf("%s lies from %v to %v, outside %s", p.ID, box.Min, box.Max, p.Printer)
			}
		}
		if mesh.Volume() <= 0 {
			t.Errorf("%s has volume %v", p.ID, mesh.Volume())
		}
	}
	for _, name := range []string{"book.pdf", "parts.csv", "calendar.ics"} {
		if info, err := os.Stat(filepath.Join(out, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	return used
}

func sums(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if d != nil && d.Name() == ".keep" {
				return fs.SkipDir
			}
			return err
		}
		text, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		out[name] = fmt.Sprintf("%x", sha256.Sum256(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestStatusOfBadCalls(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		want int
		says string
	}{
		{"nothing", nil, exitDone, "Usage"},
		{"help", []string{"--help"}, exitDone, "Usage"},
		{"unknown command", []string{"maek", "x"}, exitUnread, "unexpected argument"},
		{"no such folder", []string{"check", filepath.Join(t.TempDir(), "nowhere")}, exitUnread, "nowhere"},
		{"empty folder", []string{"check", t.TempDir()}, exitUnread, "build.yaml"},
		{"file for a folder", []string{"check", "demo_test.go"}, exitUnread, "is a file"},
		{"no such mesh", []string{"mesh", "info", "nowhere.stl"}, exitUnread, "nowhere.stl"},
		{"strange mesh", []string{"mesh", "info", "demo_test.go"}, exitUnread, ".go"},
		{"mesh to a strange file", []string{"mesh", "cut", "x.stl", "--plane", "0,0,1,0", "-o", "x.doc"}, exitUnread, ".stl"},
		{"mesh to no folder", []string{"mesh", "cut", "x.stl", "--plane", "0,0,1,0", "-o", filepath.Join("nowhere", "x.stl")}, exitUnread, "no folder"},
		{"plane below zero", []string{"mesh", "section", "nowhere.stl", "--plane", "-1,0,0,3"}, exitUnread, "there is no file nowhere.stl"},
		{"figure below zero", []string{"log", ".", "spent", "-5"}, exitUnread, "do: put -- before it: scalewright log . spent -- -5"},
		{"figure below zero and a flag", []string{"log", ".", "spent", "-5", "--text=x"}, exitUnread, "do: put -- before the first figure"},
		{"minutes below zero", []string{"log", started(t), "spent", "3", "--minutes", "-5"}, exitUnread, "-5 minutes is not a duration"},
		{"plane of three", []string{"mesh", "section", "x.stl", "--plane", "0,0,1"}, exitUnread, "is not a plane"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var said bytes.Buffer
			if got := run(t.Context(), c.args, &said, &said); got != c.want {
				t.Errorf("exit status %d, want %d\n%s", got, c.want, said.String())
			}
			if !strings.Contains(said.String(), c.says) {
				t.Errorf("said %q, want %q in it", said.String(), c.says)
			}
		})
	}
}
