package build_test

import (
	"os"
	"path/filepath"
	"testing"

	"scalewright/build"
	"scalewright/model"
	"scalewright/unit"
)

// copyDemo copies testdata/rocket and puts marks and a photograph beside it.
func copyDemo(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	demo := filepath.Join("testdata", "rocket")
	for _, name := range []string{"build.yaml", "shop.yaml", "outlines/tail.yaml"} {
		text, err := os.ReadFile(filepath.Join(demo, name))
		if err != nil {
			t.Fatal(err)
		}
		write(t, dir, name, string(text))
	}
	write(t, dir, "photos/rocket.jpg", "not decoded here")
	write(t, dir, "photos/rocket-marks.yaml", "pitch_mm: 10\nmarks:\n  - {px: [10.5, 20], mm: [0, 0]}\n  - {px: [110, 20], mm: [10, 0]}\n")
	return dir
}

func write(t testing.TB, dir, name, text string) {
	t.Helper()
	file := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func open(t testing.TB, dir string) *build.Folder {
	t.Helper()
	f, err := build.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func load(t testing.TB, f *build.Folder) build.Loaded {
	t.Helper()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestLoadDemo(t *testing.T) {
	f := open(t, copyDemo(t))
	l := load(t, f)
	d := l.Declared
	if l.Revision < 1 || d.Revision != l.Revision || d.Name != "Foyer rocket" {
		t.Errorf("Load: revision %d, %d, name %q", l.Revision, d.Revision, d.Name)
	}
	var ids []string
	for _, p := range d.Parts {
		ids = append(ids, p.ID)
	}
	if got, want := len(ids), 5; got != want || ids[0] != "bell" || ids[4] != "nose" {
		t.Errorf("parts %v, want five from bell to nose", ids)
	}
	if got, want := d.Reference.Length, (unit.Dim{MM: 218.5, U: 0.2, Owner: unit.OfReference, Text: "218.5 ± 0.2 ref"}); got != want {
		t.Errorf("length %+v, want %+v", got, want)
	}
	if d.Core == nil || d.Core.Hold != model.Spaced || d.Core.Stock != "drain-110" {
		t.Errorf("core %+v", d.Core)
	}
	tail := l.Outlines["outlines/tail.yaml"]
	if len(tail.Path) != 4 || tail.DoubtMM != 0.1 || tail.Path.Start() != 5 || tail.Path.End() != 65 {
		t.Errorf("outline %+v", tail)
	}
	if len(l.Marks.Marks) != 2 || l.Marks.PitchMM != 10 || l.Marks.Marks[0].Pixel != [2]float64{10.5, 20} {
		t.Errorf("marks %+v", l.Marks)
	}
	wren, _ := d.Shop.Printer("wren")
	if wren.Build != [3]unit.Length{220, 220, 250} || wren.WarmUp != 6 || wren.Calibrated.Bore.U != 0.07 {
		t.Errorf("printer %+v", wren)
	}
	if hours := d.Shop.People[0].Hours; len(hours) != 7 || hours[0] != (model.OpenTime{From: 18*60 + 30, To: 21*60 + 30}) {
		t.Errorf("hours %+v", hours)
	}
	if at := l.Locate(d.Parts[1].At.Key("wall")); at.String() != "build.yaml:41:5" {
		t.Errorf("Locate(%v) = %v", d.Parts[1].At.Key("wall"), at)
	}
}
