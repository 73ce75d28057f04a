package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/build"
)

// A piece is released; what changes afterwards bends round it or says so.
func TestEditAfterRelease(t *testing.T) {
	dir := started(t)
	must := func(args ...string) string {
		t.Helper()
		status, said := say(t, args...)
		if status != exitDone {
			t.Fatalf("%v: exit status %d\n%s", args, status, said)
		}
		return said
	}
	edit := func(from, to string) {
		t.Helper()
		path := filepath.Join(dir, build.BuildFile)
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		changed := strings.Replace(string(text), from, to, 1)
		if changed == string(text) {
			t.Fatalf("nothing to change: %q is not in\n%s", from, text)
		}
		if err := os.WriteFile(path, []byte(changed), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	edit("  base:\n", "  base:\n    settled: true\n")
	must("log", dir, "released", "base.foot.nose")
	if said := must("check", dir); strings.Contains(said, "made-") {
		t.Errorf("nothing was changed, and it says\n%s", said)
	}
	edit("ratio: 4 ", "ratio: 4.2 ")
	if said := must("check", dir); !strings.Contains(said, "made-other-length") && !strings.Contains(said, "made-other-shape") && !strings.Contains(said, "made-gone") {
		t.Errorf("the ratio was changed after the release, and it says\n%s", said)
	}
	edit("ratio: 4.2 ", "ratio: 4 ")
	solid := filepath.Join(dir, build.MadeDir, "A1", "piece.3mf")
	if err := os.Chmod(solid, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(solid, []byte("spoilt"), 0o644); err != nil {
		t.Fatal(err)
	}
	if said := must("check", dir); !strings.Contains(said, "made-damaged") || !strings.Contains(said, "made/A1/piece.3mf") {
		t.Errorf("a spoilt solid goes unseen:\n%s", said)
	}
	record := filepath.Join(dir, build.MadeDir, "A1", "piece.json")
	if err := errors.Join(os.Chmod(record, 0o644), os.WriteFile(record, []byte("{"), 0o644)); err != nil {
		t.Fatal(err)
	}
	if said := must("check", dir); !strings.Contains(said, "made/A1/piece.json") {
		t.Errorf("a spoilt record goes unseen:\n%s", said)
	}
	if err := os.RemoveAll(filepath.Join(dir, build.MadeDir, "A1")); err != nil {
		t.Fatal(err)
	}
	if said := must("check", dir); !strings.Contains(said, "made-damaged") {
		t.Errorf("a piece gone from made/ goes unseen:\n%s", said)
	}
}
