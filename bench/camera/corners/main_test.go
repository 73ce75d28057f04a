package main

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// What the tests of craft/camera are given is what the pictures show.
func TestRecordedCorners(t *testing.T) {
	if _, err := os.Stat(installed); err != nil {
		t.Skipf("Debian's opencv-doc is not installed: %v", err)
	}
	got, err := find(installed)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile("../../../craft/camera/testdata/chessboards.json")
	if err != nil {
		t.Fatal(err)
	}
	var want Boards
	if err := json.Unmarshal(raw, &want); err != nil {
		t.Fatal(err)
	}
	if len(got.Views) != 13 || len(want.Views) != 13 {
		t.Fatalf("%d views found, %d recorded, want 13", len(got.Views), len(want.Views))
	}
	for v, corners := range got.Views {
		if len(corners) != columns*rows || len(want.Views[v]) != columns*rows {
			t.Fatalf("view %d: %d corners, %d recorded", v, len(corners), len(want.Views[v]))
		}
		for i, c := range corners {
			if d := math.Hypot(c[0]-want.Views[v][i][0], c[1]-want.Views[v][i][1]); d > 1e-3 {
				t.Errorf("view %d, corner %d: %v, recorded %v", v, i, c, want.Views[v][i])
			}
		}
	}
}
