package build_test

import (
	"errors"
	"path/filepath"
	"testing"

	"scalewright/build"
)

func TestNew(t *testing.T) {
	empty := t.TempDir()
	for _, dir := range []string{empty, filepath.Join(t.TempDir(), "a", "b")} {
		if err := build.New(dir, `Kim's "spindle": #1`); err != nil {
			t.Fatal(err)
		}
		l := load(t, open(t, dir))
		if l.Declared.Name != `Kim's "spindle": #1` || len(l.Declared.Parts) != 3 || len(l.Findings) != 0 {
			t.Errorf("New: %q, %d parts, findings %v", l.Declared.Name, len(l.Declared.Parts), l.Findings)
		}
		if cal := l.Declared.Shop.Printers[0].Calibrated; cal.Measured || cal.Bore.U == 0 {
			t.Errorf("a printer nobody measured has calibration %+v", cal)
		}
	}
	before := text(t, empty, "build.yaml")
	if err := build.New(empty, "again"); !errors.Is(err, build.ErrNotEmpty) {
		t.Errorf("New in a folder in use: %v", err)
	}
	if text(t, empty, "build.yaml") != before {
		t.Error("New changed a build")
	}
}
