package build_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

func started(t *testing.T) *build.Folder {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "spindle")
	if err := build.New(dir, "Spindle"); err != nil {
		t.Fatal(err)
	}
	f, err := build.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func loaded(t *testing.T, f *build.Folder) build.Loaded {
	t.Helper()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func ratioAt() finding.Place { return finding.Place{File: build.BuildFile, Path: "enlarge.ratio"} }

// Every value can be put where it stands, and changes nothing but the revision.
func TestValuesCanBePutBack(t *testing.T) {
	f := started(t)
	l := loaded(t, f)
	all := l.Values()
	if len(all) < 20 {
		t.Fatalf("only %d values", len(all))
	}
	was, wasShop := l.Texts()
	for _, v := range all {
		if v.At.Path == "revision" {
			continue
		}
		if at := l.Locate(v.At); at.File != v.At.File || at.Line > v.Line {
			t.Errorf("%s is said to stand on line %d, its key on %d", v.At.Path, v.Line, at.Line)
		}
		after, err := f.Try(build.Change{Op: build.Put, At: v.At, Text: quoted(v.Text)})
		if err != nil {
			t.Errorf("put %s = %s: %v", v.At.Path, v.Text, err)
			continue
		}
		is, isShop := after.Texts()
		if diff := build.Differences(was, wasShop, is, isShop); len(diff) > 0 {
			t.Errorf("put %s = %s: %+v", v.At.Path, v.Text, diff)
		}
	}
	k := slices.IndexFunc(all, func(v build.Declared) bool { return v.At.Path == "parts.base.wall" })
	if k < 0 || !all[k].IsLength || all[k].Length.MM != 2.4 || all[k].Length.Owner != unit.OfShop {
		t.Errorf("the wall of the base: %+v", all)
	}
}

// quoted is free words as they are written; lists and lengths stand as they are.
func quoted(text string) string {
	if text == "" || text[0] == '[' || text[0] == '{' {
		return text
	}
	if _, err := unit.ParseDim(text); err == nil {
		return text
	}
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return text
	}
	if text == "true" || text == "false" {
		return text
	}
	return build.Quote(text)
}

// Laws of Differences: none between equal texts; the other way round the same places
// with both sides changed over.
func TestDifferences(t *testing.T) {
	f := started(t)
	b, s := loaded(t, f).Texts()
	rapid.Check(t, func(t *rapid.T) {
		var texts [2][]byte
		var ratios [2]int
		for i := range texts {
			ratios[i] = rapid.IntRange(2, 5).Draw(t, "ratio")
			l, err := f.Try(build.Change{Op: build.Put, At: ratioAt(), Text: strconv.Itoa(ratios[i])})
			if err != nil {
				t.Fatal(err)
			}
			texts[i], _ = l.Texts()
		}
		there, back := build.Differences(texts[0], s, texts[1], s), build.Differences(texts[1], s, texts[0], s)
		if (len(there) == 0) != (ratios[0] == ratios[1]) || len(there) != len(back) {
			t.Fatalf("%v: %v and %v", ratios, there, back)
		}
		for i, d := range there {
			if d.At != ratioAt() || d.Was != back[i].Is || d.Is != back[i].Was || d.Is != strconv.Itoa(ratios[1]) {
				t.Fatalf("%v: %v and %v", ratios, there, back)
			}
		}
	})
	if got := build.Differences(b, s, b, nil); len(got) == 0 || got[0].Is != "" || got[0].At.File != build.ShopFile {
		t.Errorf("without a shop: %+v", got)
	}
}

func TestTryWritesNothing(t *testing.T) {
	f := started(t)
	before, _ := loaded(t, f).Texts()
	stamp := f.Stamp()
	for text, want := range map[string]bool{"3": true, "huge": false} {
		if _, err := f.Try(build.Change{Op: build.Put, At: ratioAt(), Text: text}); (err == nil) != want {
			t.Errorf("try %s: %v", text, err)
		}
	}
	if after, _ := loaded(t, f).Texts(); !bytes.Equal(before, after) || f.Stamp() != stamp {
		t.Error("a trial wrote")
	}
	if _, err := f.Set(1, ratioAt(), "3"); err != nil {
		t.Fatal(err)
	}
	if f.Stamp() == stamp {
		t.Error("an edit leaves the stamp as it was")
	}
}

func TestCopy(t *testing.T) {
	from := fstest.MapFS{
		"build.yaml": {Data: []byte("schema: 1\n")}, "outlines/a.yaml": {Data: []byte("a")}, "photos/deep/b.jpg": {Data: []byte("b")},
		"out/book.pdf": {Data: []byte("derived")}, "history/journal.jsonl": {Data: []byte("old")},
	}
	dir := filepath.Join(t.TempDir(), "copy")
	if err := build.Copy(dir, from); err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			text, err := os.ReadFile(filepath.Join(dir, name))
			got[name] = string(text)
			return err
		}
		return err
	})
	want := map[string]string{"build.yaml": "schema: 1\n", "outlines/a.yaml": "a", "photos/deep/b.jpg": "b"}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("%v (-want +got):\n%s", err, diff)
	}
	if err := build.Copy(dir, from); !errors.Is(err, build.ErrNotEmpty) {
		t.Errorf("onto a build: %v", err)
	}
}

func TestPutFileNeverOverwrites(t *testing.T) {
	f := started(t)
	put := func(text, want string) {
		t.Helper()
		got, err := f.PutFile("photos/a.jpg", []byte(text))
		if err != nil || got != want {
			t.Fatalf("put %q = %s, %v, want %s", text, got, err, want)
		}
		if data, err := f.ReadFile(got, 100); err != nil || string(data) != text {
			t.Errorf("%s holds %q, %v", got, data, err)
		}
	}
	put("one", "photos/a.jpg")
	put("two", "photos/a-2.jpg")
	put("one", "photos/a.jpg")
	put("two", "photos/a-2.jpg")
	put("three", "photos/a-3.jpg")
	for _, name := range []string{"a.jpg", "../a.jpg", "/a.jpg", "photos/../../a.jpg", "", "photos/"} {
		if got, err := f.PutFile(name, []byte("x")); !errors.Is(err, build.ErrOutside) {
			t.Errorf("PutFile(%q) = %s, %v", name, got, err)
		}
	}
}

// What is stored is read back as it was given.
func TestMarksAndOutlinesComeBack(t *testing.T) {
	f := started(t)
	marks := model.Marks{PitchMM: 12.7, Marks: []model.Mark{{Pixel: [2]float64{1.5, -2}, Mat: [2]float64{0, 12.7}}, {Pixel: [2]float64{800.1234, 3}, Mat: [2]float64{25.4, 0}}}}
	file, err := f.PutMarks("photos/a.jpg", marks)
	if err != nil || file != "photos/a-marks.yaml" {
		t.Fatalf("PutMarks = %s, %v", file, err)
	}
	steps := []build.Step{{To: [2]float64{0, 8}}, {To: [2]float64{10, 8}}, {To: [2]float64{20, 18}, Centre: &[2]float64{10, 18}}, {To: [2]float64{40, 0}}}
	outline, err := f.PutOutline("a", 0.1, unit.OfShop, false, steps)
	if err != nil || outline != "outlines/a.yaml" {
		t.Fatalf("PutOutline = %s, %v", outline, err)
	}
	at := func(path string) finding.Place { return finding.Place{File: build.BuildFile, Path: path} }
	l, err := f.Try(
		build.Change{Op: build.Put, At: at("reference.marks"), Text: build.Quote(file)},
		build.Change{Op: build.Put, At: at("reference.outline"), Text: build.Quote(outline)},
	)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(marks, l.Marks); diff != "" {
		t.Errorf("marks (-put +got):\n%s", diff)
	}
	o := l.Outlines[outline]
	if diff := cmp.Diff(steps, build.Steps(o.Path)); diff != "" || o.DoubtMM != 0.1 || o.Owner != unit.OfShop {
		t.Errorf("outline %+v (-put +got):\n%s", o, diff)
	}
	if _, err := f.PutOutline("b", 0.1, unit.OfReference, false, []build.Step{{To: [2]float64{0, 1e9}}, {To: [2]float64{1, 2}}}); err == nil {
		t.Error("a point a thousand kilometres off is taken")
	}
}
