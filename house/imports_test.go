package house_test

import (
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Arrows run from a higher floor to a lower one. Folders on the ground floor
// import nothing of the house.
var floors = map[string]int{
	"unit": 0, "solid": 0, "sched": 0, "drawing": 0, "examples": 0, "web": 0, "internal": 0,
	"formats": 1, "finding": 1, "stock": 1,
	"model": 2,
	"build": 3, "craft": 3,
	"stage":  4,
	"job":    5,
	"lane":   6,
	"book":   7,
	"server": 8,
	"cmd":    9, "bench": 9,
	"house": 10,
}

type listed struct {
	ImportPath   string
	Imports      []string
	TestImports  []string
	XTestImports []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,TestImports,XTestImports", "scalewright/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := decoder.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

func TestImportsRunOneWay(t *testing.T) {
	all := packages(t)
	if len(all) < 20 {
		t.Fatalf("only %d packages listed", len(all))
	}
	for _, p := range all {
		for _, to := range p.Imports {
			if why := arrow(p.ImportPath, to); why != "" {
				t.Errorf("%s imports %s: %s", p.ImportPath, to, why)
			}
		}
	}
}

// arrow says why an import should not be there; "" when it may.
func arrow(from, to string) string {
	f, inside := strings.CutPrefix(from, "scalewright/")
	t, alsoInside := strings.CutPrefix(to, "scalewright/")
	if !inside || !alsoInside {
		return ""
	}
	fromFolder, toFolder := strings.Split(f, "/")[0], strings.Split(t, "/")[0]
	a, known := floors[fromFolder]
	b, alsoKnown := floors[toFolder]
	switch {
	case !known || !alsoKnown:
		return "a folder has no floor; give it one here"
	case fromFolder == "stage" && toFolder == "stage":
		return "stages never import each other: they meet in model"
	case fromFolder == toFolder:
		return ""
	case a == 0:
		return "this folder stands alone"
	case b >= a:
		return "arrows run from a higher floor to a lower one"
	}
	return ""
}

func TestArrowCatchesWhatItShould(t *testing.T) {
	for _, c := range []struct {
		from, to string
		bad      bool
	}{
		{"scalewright/stage/fit", "scalewright/stage/carve", true},
		{"scalewright/model", "scalewright/build", true},
		{"scalewright/solid", "scalewright/unit", true},
		{"scalewright/craft/camera", "scalewright/job", true},
		{"scalewright/job", "scalewright/stage/fit", false},
		{"scalewright/build", "fmt", false},
		{"scalewright/unknown", "scalewright/unit", true},
	} {
		if got := arrow(c.from, c.to) != ""; got != c.bad {
			t.Errorf("arrow(%s, %s) bad = %v, want %v", c.from, c.to, got, c.bad)
		}
	}
}

// Files are touched at the doors only: build, cmd, server; benches are commands too.
func TestStagesArePure(t *testing.T) {
	for _, p := range packages(t) {
		folder, _, _ := strings.Cut(strings.TrimPrefix(p.ImportPath, "scalewright/"), "/")
		if folder == "build" || folder == "cmd" || folder == "server" || folder == "bench" {
			continue
		}
		for _, to := range p.Imports {
			if to == "os" || to == "io/ioutil" || to == "net/http" {
				t.Errorf("%s imports %s: only doors touch files", p.ImportPath, to)
			}
		}
	}
}

// A clock is read in cmd and server, and in build/keep to know what was asked for last;
// all else gets the time as a value, or the same build gave other bytes.
func TestClockIsReadAtTheDoor(t *testing.T) {
	clock := regexp.MustCompile(`\btime\.(Now|Since|Until)\b`)
	readers := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil || !clock.Match(text) {
			return err
		}
		readers++
		folder := filepath.ToSlash(filepath.Dir(path))
		if !strings.HasPrefix(folder, "../cmd/") && !strings.HasPrefix(folder, "../bench/") && folder != "../server" && folder != "../build/keep" {
			t.Errorf("%s reads a clock", path)
		}
		return nil
	})
	if err != nil || readers == 0 {
		t.Errorf("%d files read a clock, %v; want some in cmd", readers, err)
	}
}
