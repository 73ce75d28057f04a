package build_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

func text(t testing.TB, dir, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func at(path string) finding.Place { return finding.Place{File: build.BuildFile, Path: path} }

// diffLines are the lines that differ, old ones with "-", new ones with "+".
func diffLines(before, after string) []string {
	old, now := strings.Split(before, "\n"), strings.Split(after, "\n")
	var out []string
	for len(old) > 0 && len(now) > 0 {
		switch {
		case old[0] == now[0]:
			old, now = old[1:], now[1:]
		case len(old) > len(now):
			out, old = append(out, "-"+old[0]), old[1:]
		case len(now) > len(old):
			out, now = append(out, "+"+now[0]), now[1:]
		default:
			out = append(out, "-"+old[0], "+"+now[0])
			old, now = old[1:], now[1:]
		}
	}
	for _, line := range old {
		out = append(out, "-"+line)
	}
	for _, line := range now {
		out = append(out, "+"+line)
	}
	return out
}

func TestEdit(t *testing.T) {
	for _, test := range []struct {
		name   string
		change build.Change
		want   []string
	}{
		{"comment kept", build.Change{Op: build.Put, At: at("parts.bell.open"), Text: "[foot, nose]"}, []string{
			"-    open: [foot]         # light comes out here", "+    open: [foot, nose]         # light comes out here",
		}},
		{"doubt", build.Change{Op: build.Put, At: at("reference.length"), Text: "218.4 ± 0.1 ref"}, []string{
			"-  length: 218.5 ± 0.2 ref  # by caliper", "+  length: 218.4 ± 0.1 ref  # by caliper",
		}},
		{"in a list", build.Change{Op: build.Put, At: at("reference.hidden.0.because"), Text: "three fins"}, []string{
			"-      because: fins", "+      because: three fins",
		}},
		{"in brackets", build.Change{Op: build.Put, At: at("parts.body.printers.0"), Text: "wren"}, []string{
			"-    printers: [heron]", "+    printers: [wren]",
		}},
		{"item", build.Change{Op: build.Add, At: at("parts.body.printers.1"), Text: "wren"}, []string{
			"-    printers: [heron]", "+    printers: [heron, wren]",
		}},
		{"comma in brackets", build.Change{Op: build.Put, At: at("reference.hidden.0.because"), Text: `fins, "three"`}, []string{
			"-      because: fins", `+      because: fins, "three"`,
		}},
		{"new key", build.Change{Op: build.Add, At: at("parts.nose.settled"), Text: "true"}, []string{"+    settled: true"}},
		{"new section", build.Change{Op: build.Add, At: at("cuts.c1"), Text: "{part: body, at: 84 ref}"}, []string{
			"+cuts:", "+  c1: {part: body, at: 84 ref}", "+",
		}},
		{"drop", build.Change{Op: build.Drop, At: at("joints.bell-tail.removable")}, []string{"-    removable: true"}},
		{"drop a joint", build.Change{Op: build.Drop, At: at("joints.bell-tail")}, []string{
			"-  bell-tail:", "-    between: [bell, tail]", "-    kind: collar         # the bell comes off to change the lamp", "-    removable: true",
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := copyDemo(t)
			f := open(t, dir)
			before := text(t, dir, "build.yaml")
			seen := load(t, f).Revision
			revision, err := f.Edit(seen, "", test.change)
			if err != nil {
				t.Fatal(err)
			}
			after := text(t, dir, "build.yaml")
			undone := strings.Replace(after, "revision: 2", "revision: 1", 1)
			if diff := cmp.Diff(test.want, diffLines(before, undone)); diff != "" {
				t.Errorf("lines changed (-want +got):\n%s", diff)
			}
			if revision != seen+1 || load(t, f).Revision != revision {
				t.Errorf("revision %d after %d", revision, seen)
			}
		})
	}
}

func TestEditRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		change build.Change
		want   any
	}{
		{"no unit", build.Change{Op: build.Put, At: at("parts.tail.wall"), Text: "2.4"}, &build.Unreadable{}},
		{"unknown stock", build.Change{Op: build.Put, At: at("core.stock"), Text: "drain-111"}, &build.Unreadable{}},
		{"needed key", build.Change{Op: build.Drop, At: at("parts.tail.wall")}, &build.Unreadable{}},
		{"unknown key", build.Change{Op: build.Add, At: at("parts.tail.wal"), Text: "2 mm"}, &build.Unreadable{}},
		{"there already", build.Change{Op: build.Add, At: at("parts.tail.wall"), Text: "2 mm"}, &build.CannotEdit{}},
		{"not there", build.Change{Op: build.Drop, At: at("parts.tial")}, &build.CannotEdit{}},
		{"below a value", build.Change{Op: build.Add, At: at("name.first"), Text: "x"}, &build.CannotEdit{}},
		{"several lines", build.Change{Op: build.Put, At: at("parts.tail"), Text: "{from: 1 ref}"}, &build.CannotEdit{}},
		{"comment smuggled in", build.Change{Op: build.Put, At: at("name"), Text: "x # y"}, &build.CannotEdit{}},
		{"line smuggled in", build.Change{Op: build.Put, At: at("name"), Text: "x\nschema: 2"}, &build.CannotEdit{}},
		{"revision", build.Change{Op: build.Put, At: at("revision"), Text: "7"}, &build.CannotEdit{}},
		{"another file", build.Change{Op: build.Put, At: finding.Place{File: "log.jsonl", Path: "1"}, Text: "7"}, &build.CannotEdit{}},
		{"gap in a list", build.Change{Op: build.Add, At: at("parts.body.printers.4"), Text: "wren"}, &build.CannotEdit{}},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := copyDemo(t)
			f := open(t, dir)
			before := text(t, dir, "build.yaml")
			_, err := f.Edit(load(t, f).Revision, "", test.change)
			if got, want := errorType(err), errorType(test.want.(error)); got != want {
				t.Errorf("Edit: %v (%s), want %s", err, got, want)
			}
			if text(t, dir, "build.yaml") != before {
				t.Error("the text changed")
			}
		})
	}
}

func errorType(err error) string {
	if _, ok := errors.AsType[*build.Unreadable](err); ok {
		return "Unreadable"
	}
	if _, ok := errors.AsType[*build.CannotEdit](err); ok {
		return "CannotEdit"
	}
	if _, ok := errors.AsType[*build.Conflict](err); ok {
		return "Conflict"
	}
	return "other"
}

func TestConflict(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	seen := load(t, f).Revision
	if _, err := f.Set(seen, at("enlarge.ratio"), "5"); err != nil {
		t.Fatal(err)
	}
	before := text(t, dir, "build.yaml")
	_, err := f.Set(seen, at("enlarge.ratio"), "7")
	if c, ok := errors.AsType[*build.Conflict](err); !ok || c.Seen != seen || c.Is != seen+1 {
		t.Errorf("Set on an old revision: %v, want a Conflict", err)
	}
	if text(t, dir, "build.yaml") != before {
		t.Error("the text changed")
	}
}

// The texts come back byte for byte but for the revision, which never repeats.
func TestUndo(t *testing.T) {
	dir := copyDemo(t)
	texts := func() string {
		build := text(t, dir, "build.yaml")
		before, rest, _ := strings.Cut(build, "revision: ")
		_, rest, _ = strings.Cut(rest, "\n")
		return before + rest + text(t, dir, "shop.yaml")
	}
	must := func(revision int, err error) int {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return revision
	}
	f := open(t, dir)
	start := texts()
	r := must(f.Set(1, at("parts.tail.wall"), "3 mm"))
	first := texts()
	r = must(f.Set(r, finding.Place{File: build.ShopFile, Path: "printers.wren.nozzle"}, "0.6 mm"))
	second := texts()
	write(t, dir, "build.yaml", strings.Replace(text(t, dir, "build.yaml"), "Foyer rocket\n", "Lobby rocket\n", 1))
	outside := texts()
	r = must(f.Set(r, at("enlarge.ratio"), "5.5"))

	f = open(t, dir) // across a restart
	h, err := f.History()
	if err != nil {
		t.Fatal(err)
	}
	want := build.History{Undo: []string{"ratio of enlarge", "changes made outside", "nozzle of wren", "wall of tail"}}
	if diff := cmp.Diff(want, h); diff != "" {
		t.Errorf("History (-want +got):\n%s", diff)
	}
	last := texts()
	for i, want := range []string{outside, second, first, start} {
		name, next, err := f.Undo(r)
		if err != nil {
			t.Fatal(err)
		}
		if name != h.Undo[i] || next != r+1 || texts() != want {
			t.Errorf("Undo %d: %q, revision %d after %d, text equal: %v", i, name, next, r, texts() == want)
		}
		r = next
	}
	if _, _, err := f.Undo(r); !errors.Is(err, build.ErrNothing) {
		t.Errorf("Undo at the start: %v", err)
	}
	for i, want := range []string{first, second, outside, last} {
		name, next, err := f.Redo(r)
		if err != nil {
			t.Fatal(err)
		}
		if texts() != want || next != r+1 {
			t.Errorf("Redo %d %q: text equal: %v", i, name, texts() == want)
		}
		r = next
	}
	if _, _, err := f.Redo(r); !errors.Is(err, build.ErrNothing) {
		t.Errorf("Redo at the end: %v", err)
	}
	_, r, err = f.Undo(r)
	r = must(r, err)
	must(f.Set(r, at("enlarge.ratio"), "4"))
	if h, _ := f.History(); len(h.Redo) != 0 {
		t.Errorf("after an edit, redo holds %v", h.Redo)
	}
}

func TestAcceptCuts(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	before := text(t, dir, "build.yaml")
	ids, revision, err := f.AcceptCuts(
		1,
		model.DeclaredCut{Part: "body", Station: unit.Ref(66), Kind: model.Spigot},
		model.DeclaredCut{Part: "body", Station: unit.Shop(612.5)},
	)
	if err != nil || revision != 2 || !cmp.Equal(ids, []string{"c1", "c2"}) {
		t.Fatalf("AcceptCuts = %v, %d, %v", ids, revision, err)
	}
	cuts := load(t, f).Declared.Cuts
	if len(cuts) != 2 || cuts[0].Station != unit.Ref(66) || cuts[0].Kind != model.Spigot || cuts[1].Station != unit.Shop(612.5) {
		t.Errorf("cuts %+v", cuts)
	}
	name, _, err := f.Undo(revision)
	if err != nil || name != "accept c1 and c2" || strings.Replace(text(t, dir, "build.yaml"), "revision: 3", "revision: 1", 1) != before {
		t.Errorf("Undo = %q, %v", name, err)
	}
}

// A key whose value was left out takes one, wherever it stands.
func TestPutWhereNothingStands(t *testing.T) {
	for text, want := range map[string]string{
		"a: 1\nc:\n":              "a: 1\nc: x\n",
		"a: 1\nc:":                "a: 1\nc: x",
		"a: 1\nc:\n\n\n":          "a: 1\nc: x\n\n\n",
		"a: 1\nc: # why\n":        "a: 1\nc: x # why\n",
		"a: 1\nc:\n\nd: 2\n":      "a: 1\nc: x\n\nd: 2\n",
		"a: 1\nc: # why\n\n# e\n": "a: 1\nc: x # why\n\n# e\n",
	} {
		got, err := build.ChangeText(text, build.Change{Op: build.Put, At: at("c"), Text: "x"})
		if err != nil || got != want {
			t.Errorf("in %q: %q, %v; want %q", text, got, err, want)
		}
	}
}
