package build_test

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"scalewright/build"
)

// Results must never take the place of the build, of what was made, or of
// anybody else's files, whatever these are called.
func TestOutKeepsWhatIsNotOurs(t *testing.T) {
	for _, test := range []struct {
		name  string
		files []string // below the folder above the build
		out   string   // from there
	}{
		{"the build itself", []string{"build/report.json"}, "build"},
		{"the folder above it", []string{"report.json"}, "."},
		{"inside it", nil, "build/made"},
		{"deep inside it", nil, "build/made/later/on"},
		{"a report of others", []string{"other/report.json", "other/diary.txt"}, "other"},
		{"a list of others", []string{"other/CONTENTS", "other/diary.txt"}, "other"},
		{"a folder named like new results", []string{"res.new/keep.txt"}, "res"},
		{"a folder named like old results", []string{"res.old/keep.txt"}, "res"},
		{"a file", []string{"notes"}, "notes"},
	} {
		above := t.TempDir()
		dir := filepath.Join(above, "build")
		if err := os.CopyFS(dir, os.DirFS(copyDemo(t))); err != nil {
			t.Fatal(err)
		}
		for _, name := range test.files {
			write(t, above, name, name)
		}
		f := open(t, dir)
		before := listing(t, above)
		_, err := f.Out(filepath.Join(above, test.out))
		if _, ok := errors.AsType[*build.OutRefused](err); !ok {
			t.Errorf("%s: Out says %v, want OutRefused", test.name, err)
		}
		after := slices.DeleteFunc(listing(t, above), func(name string) bool { return filepath.Dir(name) == filepath.Join("build", "history") })
		before = slices.DeleteFunc(before, func(name string) bool { return filepath.Dir(name) == filepath.Join("build", "history") })
		if !slices.Equal(before, after) {
			t.Errorf("%s: %v became %v", test.name, before, after)
		}
	}
}

// A file that somebody adds to earlier results is theirs.
func TestOutKeepsAddedFiles(t *testing.T) {
	f := open(t, copyDemo(t))
	out := filepath.Join(t.TempDir(), "results")
	w := begin(t, f, out)
	put(t, w, "report.json", "1")
	put(t, w, "pieces/a.stl", "a")
	if err := w.Commit(); err != nil {
		t.Fatal(err)
	}
	write(t, out, "pieces/mine.txt", "mine")
	_, err := f.Out(out)
	if refused, ok := errors.AsType[*build.OutRefused](err); !ok || refused.Do == "" {
		t.Errorf("Out says %v, want OutRefused with what to do", err)
	}
	if got := text(t, out, "pieces/mine.txt"); got != "mine" {
		t.Errorf("the added file holds %q", got)
	}
}

// A link to the build is the build.
func TestOutSeesThroughLinks(t *testing.T) {
	dir := copyDemo(t)
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(dir, link); err != nil {
		t.Skip("no links here: ", err)
	}
	f := open(t, dir)
	if _, err := f.Out(filepath.Join(link, "made")); err == nil {
		t.Error("results in the build through a link are not refused")
	}
	if _, err := f.Out(link); err == nil {
		t.Error("results in the place of the build through a link are not refused")
	}
}
