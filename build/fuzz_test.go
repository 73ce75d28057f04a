package build_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"scalewright/build"
)

// Whatever stands in the files, Load answers: a build, or mistakes with places
// in the text.
func FuzzLoad(f *testing.F) {
	for _, pattern := range []string{"testdata/rocket/*.yaml", "testdata/mistakes/*.build.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			f.Add([]byte(text(f, ".", file)), []byte(text(f, "testdata/rocket", "shop.yaml")), []byte("{\"pitch_mm\": 10, \"marks\": []}"))
		}
	}
	dir := copyDemo(f)
	folder := open(f, dir)
	f.Fuzz(func(t *testing.T, buildText, shop, marks []byte) {
		for name, data := range map[string][]byte{
			"build.yaml": buildText, "shop.yaml": shop, "photos/rocket-marks.yaml": marks, "outlines/tail.yaml": marks, "log.jsonl": shop,
		} {
			if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		l, err := folder.Load()
		bad, ok := errors.AsType[*build.Unreadable](err)
		if err != nil && !ok {
			t.Fatal(err)
		}
		if err == nil {
			if l.Revision < 1 || len(l.Declared.Parts) == 0 {
				t.Errorf("loaded with revision %d and %d parts", l.Revision, len(l.Declared.Parts))
			}
			return
		}
		if len(bad.Findings) == 0 {
			t.Error("unreadable without a finding")
		}
		for _, finding := range bad.Findings {
			if at := bad.Locate(finding.At); at.File == "" || at.Line > 0 && at.Column < 1 {
				t.Errorf("%v stands at %v", finding, at)
			}
		}
	})
}

// No change of any text panics, and none that succeeds leaves what cannot be
// read.
func FuzzChange(f *testing.F) {
	f.Add(text(f, "testdata/rocket", "build.yaml"), "parts.tail.wall", "3 mm", byte(0))
	f.Add("a: {b: 1}\n", "a.c", "x, y", byte(1))
	f.Add("a:\n- b\n- c # d\n", "a.1", "", byte(2))
	f.Add("", "a.b.c", "1", byte(1))
	f.Add("a: ~\nb:\n  - c: |\n      d\n", "b.0.c", "e", byte(0))
	f.Fuzz(func(t *testing.T, text, path, value string, op byte) {
		c := build.Change{Op: build.Op(op % 3), At: at(path), Text: value}
		out, err := build.ChangeText(text, c)
		if err != nil {
			return
		}
		if _, err := build.ChangeText(out, build.Change{Op: build.Put, At: at("some-new-key"), Text: "1"}); err != nil {
			if _, ok := errors.AsType[*build.Unreadable](err); ok {
				t.Errorf("%v made of %q the unreadable %q", c, text, out)
			}
		}
	})
}
