package build_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"scalewright/build"
)

func put(t testing.TB, w *build.OutWriter, name, text string) {
	t.Helper()
	file, err := w.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := file.Write([]byte(text)); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

func begin(t testing.TB, f *build.Folder, dir string) *build.OutWriter {
	t.Helper()
	w, err := f.Out(dir)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// listing is every file below a folder.
func listing(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			out = append(out, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestOut(t *testing.T) {
	for _, elsewhere := range []bool{false, true} {
		dir := copyDemo(t)
		f := open(t, dir)
		to, out := "", filepath.Join(dir, "out")
		if elsewhere {
			out = filepath.Join(t.TempDir(), "results")
			to = out
		}
		w := begin(t, f, to)
		put(t, w, "report.json", "1")
		put(t, w, "pieces/a.stl", "a")
		if err := w.Commit(); err != nil {
			t.Fatal(err)
		}
		write(t, out, ".keep/store/x", "kept")
		w = begin(t, f, to)
		put(t, w, "report.json", "2")
		put(t, w, "pieces/b.stl", "b")
		if _, err := f.Out(to); !isBusy(err) || !strings.Contains(err.Error(), fmt.Sprintf("process %d", os.Getpid())) {
			t.Errorf("Out while another writes: %v, want Busy that says who", err)
		}
		if err := w.Commit(); err != nil {
			t.Fatal(err)
		}
		if got, want := listing(t, out), []string{".keep/store/x", "CONTENTS", "pieces/b.stl", "report.json"}; !slices.Equal(got, want) {
			t.Errorf("out holds %v, want %v", got, want)
		}
		w = begin(t, f, to)
		put(t, w, "report.json", "3")
		if err := w.Abort(); err != nil {
			t.Fatal(err)
		}
		w = begin(t, f, to)
		put(t, w, "pieces/c.stl", "c")
		if err := w.MarkStale([]byte("blocked")); err != nil {
			t.Fatal(err)
		}
		if got, want := listing(t, out), []string{".keep/store/x", "CONTENTS", "STALE", "pieces/b.stl", "report.json"}; !slices.Equal(got, want) {
			t.Errorf("stale, out holds %v, want %v", got, want)
		}
		if got := text(t, out, "report.json"); got != "blocked" {
			t.Errorf("report %q", got)
		}
		w = begin(t, f, to)
		put(t, w, "report.json", "4")
		if err := w.Commit(); err != nil {
			t.Fatal(err)
		}
		if got, want := listing(t, out), []string{".keep/store/x", "CONTENTS", "report.json"}; !slices.Equal(got, want) {
			t.Errorf("good again, out holds %v, want %v", got, want)
		}
		if err := w.Abort(); err != nil {
			t.Errorf("Abort after Commit: %v", err)
		}
	}
}

func isBusy(err error) bool {
	_, ok := errors.AsType[*build.Busy](err)
	return ok
}

// Every state that a kill during the swap can leave comes back whole.
func TestOutRecovers(t *testing.T) {
	for _, test := range []struct {
		name  string
		files []string
		want  []string
	}{
		{"new half written", []string{"out/report.json", "out/.keep/x", "out.new/pieces/a"}, []string{".keep/x", "report.json"}},
		{"old moved away", []string{"out.old/report.json", "out.old/.keep/x", "out.new/report.json", "out.new/b"}, []string{".keep/x", "b", "report.json"}},
		{"new in place", []string{"out.old/report.json", "out.old/.keep/x", "out/report.json", "out/b"}, []string{".keep/x", "b", "report.json"}},
		{"memory moved", []string{"out.old/report.json", "out/.keep/x", "out/report.json"}, []string{".keep/x", "report.json"}},
		{"cleaning cut short", []string{"out.old/b", "out/.keep/x", "out/report.json", "out.new/c"}, []string{".keep/x", "report.json"}},
	} {
		dir := copyDemo(t)
		for _, name := range test.files {
			write(t, dir, name, name)
		}
		open(t, dir)
		if got := listing(t, filepath.Join(dir, "out")); !slices.Equal(got, test.want) {
			t.Errorf("%s: out holds %v, want %v", test.name, got, test.want)
		}
		for _, left := range []string{"out.new", "out.old"} {
			if _, err := os.Stat(filepath.Join(dir, left)); !errors.Is(err, fs.ErrNotExist) {
				t.Errorf("%s: %s is left", test.name, left)
			}
		}
	}
}

// A swap must not remove what is not ours.
func TestOutRefuses(t *testing.T) {
	dir := copyDemo(t)
	f := open(t, dir)
	other := t.TempDir()
	write(t, other, "letters/1.txt", "dear")
	if _, err := f.Out(other); err == nil {
		t.Error("Out took a folder with other files")
	}
	w := begin(t, f, "")
	for _, name := range []string{"../x", "/x", ".keep/x", ""} {
		if _, err := w.Create(name); err == nil {
			t.Errorf("Create(%q) went through", name)
		}
	}
	if err := w.MarkStale([]byte("{}")); err != nil {
		t.Fatal(err)
	}
}
