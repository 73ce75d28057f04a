package build_test

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
)

func shell(part, from, to string) model.PieceID {
	return model.PieceID{Kind: model.Shell, Part: part, From: from, To: to}
}

func release(t *testing.T, f *build.Folder, id model.PieceID) string {
	t.Helper()
	label, _, err := f.Release(build.Release{
		Seen: load(t, f).Revision, Piece: id,
		Files: map[string][]byte{"piece.3mf": []byte("solid of " + id.String()), "sizes.json": []byte("{}")},
		Event: model.Event{Time: someTime, Printer: "heron"},
	})
	if err != nil {
		t.Fatal(err)
	}
	return label
}

func TestRelease(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	var labels []string
	for _, id := range []model.PieceID{
		shell("tail", "foot", "nose"), shell("body", "foot", "c1"), shell("body", "c1", "nose"), shell("tail", "foot", "nose"),
	} {
		labels = append(labels, release(t, f, id))
	}
	if want := []string{"A1", "B1", "B2", "A2"}; !slices.Equal(labels, want) {
		t.Errorf("labels %v, want %v", labels, want)
	}
	events := load(t, f).Events
	if len(events) != 4 || events[1].Kind != model.Released || events[1].Label != "B1" || events[1].Piece != "body.foot.c1" || events[1].Revision != 1 {
		t.Errorf("events %+v", events)
	}
	pieces, err := f.Made()
	if err != nil || len(pieces) != 4 || pieces[2].Label != "B1" || !slices.Equal(pieces[2].Files, []string{"piece.3mf", "sizes.json"}) {
		t.Errorf("Made = %+v, %v", pieces, err)
	}
	if data, err := f.ReadMade("B1", "piece.3mf"); string(data) != "solid of body.foot.c1" || err != nil {
		t.Errorf("ReadMade = %q, %v", data, err)
	}
	// A label is not given again even when its folder was taken away.
	if err := os.RemoveAll(filepath.Join(dir, "made", "A2")); err != nil {
		t.Fatal(err)
	}
	if label := release(t, f, shell("tail", "foot", "nose")); label != "A3" {
		t.Errorf("label %s, want A3", label)
	}
	if ids, _, err := f.AcceptCuts(1, model.DeclaredCut{Part: "body", Station: load(t, f).Declared.Parts[2].From}); err != nil || ids[0] != "c2" {
		t.Errorf("AcceptCuts = %v, %v, want c2: a piece bears c1", ids, err)
	}
}

// Killed between the folder and the log line: opening writes the line.
func TestReleaseIsCompleted(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	release(t, f, shell("tail", "foot", "nose"))
	before, tail := text(t, dir, build.LogFile), text(t, dir, "history/log-tail")
	release(t, f, shell("body", "foot", "nose"))
	after := text(t, dir, build.LogFile)
	write(t, dir, build.LogFile, before)
	write(t, dir, "history/log-tail", tail)
	write(t, dir, "made/.B2.new/piece.3mf", "half a")
	f = open(t, dir)
	if got := text(t, dir, build.LogFile); got != after {
		t.Errorf("the log says\n%s, want\n%s", got, after)
	}
	if _, err := os.Stat(filepath.Join(dir, "made", ".B2.new")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("what was never released is still there: %v", err)
	}
	write(t, dir, "made/mine/readme.txt", "a folder of the maker's")
	if pieces, err := f.Made(); len(pieces) != 2 || err != nil {
		t.Errorf("Made = %v, %v", pieces, err)
	}
}

func TestReleaseRefuses(t *testing.T) {
	f := open(t, copyDemo(t))
	good := build.Release{Seen: 1, Piece: shell("tail", "foot", "nose"), Event: model.Event{Time: someTime}}
	for name, spoil := range map[string]func(*build.Release){
		"old revision":   func(r *build.Release) { r.Seen = 0 },
		"path out":       func(r *build.Release) { r.Files = map[string][]byte{"../x": nil} },
		"our own name":   func(r *build.Release) { r.Files = map[string][]byte{"Piece.json": nil} },
		"no time":        func(r *build.Release) { r.Event.Time = "" },
		"absolute":       func(r *build.Release) { r.Files = map[string][]byte{"/x": nil} },
		"back to itself": func(r *build.Release) { r.Files = map[string][]byte{"a/../b": nil} },
	} {
		r := good
		spoil(&r)
		if _, _, err := f.Release(r); err == nil {
			t.Errorf("%s: released", name)
		}
	}
	if pieces, _ := f.Made(); len(pieces) != 0 {
		t.Errorf("made %v", pieces)
	}
}

// Old steps are dropped beyond the bounds, the texts of made pieces never.
func TestHistoryIsBounded(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	build.BoundHistory(f, 5, 1<<30)
	revision := 1
	set := func(text string) {
		t.Helper()
		var err error
		if revision, err = f.Set(revision, finding.Place{File: build.BuildFile, Path: "name"}, text); err != nil {
			t.Fatal(err)
		}
	}
	set("made of this")
	release(t, f, shell("tail", "foot", "nose"))
	for i := range 12 {
		set("name " + strings.Repeat("x", i+1))
	}
	if h, err := f.History(); err != nil || len(h.Undo) != 5 {
		t.Errorf("History = %v, %v, want 5 steps", h, err)
	}
	kept := texts(t, dir)
	// Five steps lie between six texts of build.yaml; one more of the made
	// piece; one of shop.yaml.
	if len(kept) != 8 || !slices.ContainsFunc(kept, func(name string) bool { return strings.HasPrefix(name, "build-2-") }) {
		t.Errorf("history holds %v", kept)
	}
	for range 5 {
		var err error
		if _, revision, err = f.Undo(revision); err != nil {
			t.Fatal(err)
		}
	}
	if got := load(t, f).Declared.Name; got != "name xxxxxxx" {
		t.Errorf("five steps back the name is %q", got)
	}
	build.BoundHistory(f, 1000, 3*len(text(t, dir, build.BuildFile)))
	set("small")
	if h, err := f.History(); err != nil || len(h.Undo) == 0 || len(h.Undo) > 2 {
		t.Errorf("bounded by bytes, History = %v, %v", h, err)
	}
}

func texts(t *testing.T, dir string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "history", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		names[i] = filepath.Base(name)
	}
	return names
}
