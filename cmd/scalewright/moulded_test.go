package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The moulded candlestick: the draft taken off, the edges crisp at the shop's size, one
// reading taken and one named. What check says is in says.txt beside it.
func TestMouldedCandlestick(t *testing.T) {
	const from = "../../examples/moulded-candlestick"
	dir := filepath.Join(t.TempDir(), "build")
	if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	if status := run(t.Context(), []string{"check", dir}, &said, &said); status != 0 {
		t.Fatalf("exit %d: %s", status, said.String())
	}
	golden := filepath.Join(from, "says.txt")
	if *update {
		if err := os.WriteFile(golden, said.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), said.String()); diff != "" {
		t.Errorf("check said (-want +got):\n%s", diff)
	}
	if !strings.Contains(said.String(), "reading-swapped") {
		t.Error("the swapped reading is not named")
	}
	said.Reset()
	if status := run(t.Context(), []string{"make", dir}, &said, &said); status != 0 {
		t.Fatalf("make: exit %d: %s", status, said.String())
	}
	text, err := os.ReadFile(filepath.Join(dir, "out", "report.json"))
	if err != nil {
		t.Fatal(err)
	}
	var report struct {
		Trace struct {
			Segments []struct {
				Kind     string
				From, To [2]float64
				Radius   float64 `json:"radius_mm"`
			}
		}
		Readings struct {
			Taken []struct{ Used bool }
		}
		Trued struct {
			Measured []struct{ Kind string }
			Moved    []struct{ Truth string }
			Edges    []struct{ Size float64 }
		}
	}
	if err := json.Unmarshal(text, &report); err != nil {
		t.Fatal(err)
	}
	var kinds []string
	for _, s := range report.Trace.Segments {
		kinds = append(kinds, s.Kind)
		level := s.From[1] == s.To[1]
		if s.Kind == "line" && s.To[0]-s.From[0] > 10 && !level {
			t.Errorf("a side leans: %+v", s)
		}
		if s.Kind == "arc" && math.Abs(4*s.Radius-1.5) > 1e-4 {
			t.Errorf("an edge of %v mm at full size, want 1.5", 4*s.Radius)
		}
	}
	if diff := cmp.Diff([]string{"line", "arc", "line", "line", "arc"}, kinds); diff != "" {
		t.Errorf("segments (-want +got):\n%s", diff)
	}
	r := report
	if len(r.Trued.Measured) != 5 || len(r.Trued.Moved) != 2 || len(r.Trued.Edges) != 2 || !r.Readings.Taken[0].Used || r.Readings.Taken[1].Used {
		t.Errorf("%+v, %+v", r.Trued, r.Readings)
	}
}
