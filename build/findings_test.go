package build_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"scalewright/build"
	"scalewright/finding"
)

// Which file of the folder a file of testdata/mistakes takes the place of.
var stands = map[string]string{
	".build.yaml": "build.yaml", ".shop.yaml": "shop.yaml",
	".outline.yaml": "outlines/tail.yaml", ".marks.yaml": "photos/rocket-marks.yaml",
}

var wanted = regexp.MustCompile(`FINDING ([a-z-]+) ("(?:[^"\\]|\\.)*")`)

// expected is what the comments of a text promise: line and code, and a part of
// the message.
func expected(t *testing.T, text string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for i, line := range strings.Split(text, "\n") {
		for _, m := range wanted.FindAllStringSubmatch(line, -1) {
			message, err := strconv.Unquote(m[2])
			if err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
			out[fmt.Sprintf("%d %s", i+1, m[1])] = message
		}
	}
	return out
}

func mistakes(t *testing.T, dir string) *build.Unreadable {
	t.Helper()
	_, err := open(t, dir).Load()
	bad, ok := errors.AsType[*build.Unreadable](err)
	if !ok {
		t.Fatalf("Load: %v, want Unreadable", err)
	}
	return bad
}

// Every mistake of a file is reported at once, at its line, and nothing else.
func TestFindings(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		_, kind, _ := strings.Cut(filepath.Base(file), ".")
		t.Run(filepath.Base(file), func(t *testing.T) {
			dir := copyDemo(t)
			written := text(t, ".", file)
			write(t, dir, stands["."+kind], written)
			bad := mistakes(t, dir)
			want := expected(t, written)
			w := finding.Writer{Locate: bad.Locate}
			last := finding.Position{}
			for _, f := range bad.Findings {
				at := w.Position(f.At)
				key := fmt.Sprintf("%d %s", at.Line, f.Code)
				message, ok := want[key]
				if !ok || !strings.Contains(w.Message(f), message) || at.File != stands["."+kind] {
					t.Errorf("%v: %s: %s; want %q", at, f.Code, w.Message(f), message)
				}
				if f.Stage != "build" || f.Severity != finding.Blocker || w.Remedy(f) == "" {
					t.Errorf("%v: %s is a %s of %s, do: %q", at, f.Code, f.Severity, f.Stage, w.Remedy(f))
				}
				if at.Line < last.Line || at.Line == last.Line && at.Column < last.Column {
					t.Errorf("%v comes behind %v", at, last)
				}
				last = at
				delete(want, key)
			}
			for key := range want {
				t.Errorf("no finding %s %q", key, want[key])
			}
		})
	}
}

// The mistakes that no comment can stand beside.
func TestFindingsOfTexts(t *testing.T) {
	sound := text(t, "testdata/rocket", "build.yaml")
	for _, test := range []struct {
		name, file, text string
		want             string // position, code and part of the message
	}{
		{"bracket", "build.yaml", "schema: 1\nparts: [tail\n", "build.yaml:2:8 bad-yaml this is not YAML"},
		{"tab", "build.yaml", "schema: 1\nparts:\n\ttail: 1\n", "build.yaml:3:1 bad-yaml this is not YAML"},
		{"alias", "build.yaml", "schema: 1\nname: &a x\n", "build.yaml:2:7 bad-yaml anchors"},
		{"two documents", "build.yaml", sound + "---\nname: x\n", "build.yaml:69:5 bad-yaml a second document begins"},
		{"merge key", "build.yaml", "<<: {}\n", "build.yaml:1:1 bad-yaml this key"},
		{"no text", "build.yaml", "\xff\xfe", "build.yaml:1:1 bad-yaml the file is not UTF-8"},
		{"bombs of brackets", "build.yaml", strings.Repeat("[", 100000), "build.yaml:1:1 bad-yaml brackets are nested"},
		{"bombs of dashes", "build.yaml", strings.Repeat("- ", 100000), "build.yaml:1:1 bad-yaml brackets are nested"},
		{"deep", "build.yaml", steps(40), "build.yaml:34:35 bad-yaml values are nested"},
		{"large", "build.yaml", "#" + strings.Repeat("x", 1<<20), "build.yaml:1:1 bad-yaml the file is larger"},
		{"long", "build.yaml", strings.Replace(sound, "Foyer rocket\n", strings.Repeat("x", 300)+"\n", 1), "build.yaml:8:1 too-long name is longer"},
		{"list", "build.yaml", "- a\n", "build.yaml:1:1 wrong-type"},
		{"json", "photos/rocket-marks.yaml", "{\n\t\"pitch_mm\": 10,\n\t\"marks\": [{\"px\": [1, 2]}]\n}", "photos/rocket-marks.yaml:3:12 missing-key mm is missing"},
		{"damaged log", "log.jsonl", "{}\n", "log.jsonl:1:1 log-damaged line 1"},
		{"log of another", "log.jsonl", build.Seal(`{"number":1,"kind":"dreamt","time":"x"}`), "log.jsonl:1:1 log-unknown line 1"},
		{"log of the future", "log.jsonl", build.Seal(`{"number":1,"kind":"note","time":"x","mood":"x"}`), "log.jsonl:1:1 log-unknown line 1"},
		{"log that begins late", "log.jsonl", build.Seal(`{"number":2,"kind":"note","time":"x"}`), "log.jsonl:1:1 log-unknown line 1"},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := copyDemo(t)
			write(t, dir, test.file, test.text)
			bad := mistakes(t, dir)
			w := finding.Writer{Locate: bad.Locate}
			f := bad.Findings[0]
			got := fmt.Sprintf("%v %s %s", w.Position(f.At), f.Code, w.Message(f))
			if !strings.HasPrefix(got, test.want) {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
}

// steps is a mapping so many levels deep.
func steps(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

func TestFilesMissing(t *testing.T) {
	for _, test := range []struct{ file, code, hint string }{
		{"build.yaml", "missing-build", "scalewright new DIR"},
		{"shop.yaml", "missing-shop", "scalewright new DIR"},
		{"photos/rocket.jpg", "missing-file", "copy it there"},
		{"outlines/tail.yaml", "missing-file", "copy it there"},
		{"photos/rocket-marks.yaml", "missing-file", "copy it there"},
	} {
		dir := copyDemo(t)
		if err := os.Remove(filepath.Join(dir, test.file)); err != nil {
			t.Fatal(err)
		}
		bad := mistakes(t, dir)
		if len(bad.Findings) != 1 || string(bad.Findings[0].Code) != test.code ||
			!strings.Contains(finding.Writer{}.Remedy(bad.Findings[0]), test.hint) {
			t.Errorf("without %s: %v", test.file, bad)
		}
	}
	dir := copyDemo(t)
	if err := os.Truncate(filepath.Join(dir, "photos", "rocket.jpg"), 1<<30); err != nil { // takes no room on disk
		t.Fatal(err)
	}
	if bad := mistakes(t, dir); bad.Findings[0].Code != "too-large" {
		t.Errorf("a photograph of 1 GiB: %v", bad)
	}
	dir = copyDemo(t)
	outside := filepath.Join(t.TempDir(), "x.jpg")
	write(t, filepath.Dir(outside), "x.jpg", "outside")
	photo := filepath.Join(dir, "photos", "rocket.jpg")
	if err := errors.Join(os.Remove(photo), os.Symlink(outside, photo)); err != nil {
		t.Skip("no symbolic link can be made here: ", err) // Windows asks for its developer mode
	}
	if bad := mistakes(t, dir); bad.Findings[0].Code != "outside-folder" {
		t.Errorf("a link out of the folder: %v", bad)
	}
}

// Every blocker of the catalogue is provoked somewhere in these tests.
func TestFindingsAreAllProvoked(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	tests, err := filepath.Glob("*_test.go")
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, file := range slices.Concat(files, tests) {
		all.WriteString(text(t, ".", file))
	}
	for _, e := range finding.Entries() {
		if e.Stage == "build" && e.Severity == finding.Blocker && !strings.Contains(all.String(), string(e.Code)) {
			t.Errorf("no test provokes %s", e.Code)
		}
	}
}
