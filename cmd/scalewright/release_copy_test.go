package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A piece of one copy is released: its cut is accepted for the part that all copies
// are declared as, and the build still loads and is divided there.
func TestReleaseOfACopy(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "letters")
	if err := os.CopyFS(dir, os.DirFS("../../examples/letters")); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "build.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	two := strings.Replace(string(text), "outline: outlines/board.yaml\n", "outline: outlines/board.yaml\n    clockings_deg: [0, 180]\n", 1)
	if err := os.WriteFile(file, []byte(two), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, said := say(t, "log", dir, "released", "board-1.foot.slice"); status != exitUnread || !strings.Contains(said, "settled: true under parts.board ") {
		t.Fatalf("an open part: status %d, %s", status, said)
	}
	two = strings.Replace(two, "clockings_deg", "settled: true\n    clockings_deg", 1)
	if err := os.WriteFile(file, []byte(two), 0o644); err != nil {
		t.Fatal(err)
	}
	status, said := say(t, "log", dir, "released", "board-1.foot.slice")
	if status != exitDone || !strings.Contains(said, "the cut of board at 168 mm is accepted as c1") {
		t.Fatalf("status %d, %s", status, said)
	}
	o, err := openBuild(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer o.Close()
	r, err := (&face{out: t.Output(), talk: t.Output()}).derive(t.Context(), o)
	if err != nil || r.Blocked() {
		t.Fatal(err, r.Findings)
	}
	for _, id := range []string{"board-1.c1.slice", "board-2.c1.slice"} {
		if _, err := pieceNamed(r, id); err != nil {
			t.Error(err)
		}
	}
}
