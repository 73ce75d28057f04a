package keep_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"scalewright/build/keep"
)

func key(name string) [32]byte { return sha256.Sum256([]byte(name)) }

// ticks is a clock that goes on one second each time it is read.
func ticks() func() time.Time {
	var mu sync.Mutex
	now := time.Date(2026, 11, 2, 9, 0, 0, 0, time.UTC)
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		now = now.Add(time.Second)
		return now
	}
}

func openDir(t testing.TB, path string, most int64) *keep.Dir {
	t.Helper()
	d, err := keep.Open(path, keep.Options{Most: most, Now: ticks()})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func put(t testing.TB, d *keep.Dir, name string, size int) {
	t.Helper()
	if err := d.Put(key(name), bytes.Repeat([]byte(name), size)); err != nil {
		t.Fatal(err)
	}
}

func files(t testing.TB, path string) (names []string, size int64) {
	t.Helper()
	err := filepath.WalkDir(path, func(name string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			info, _ := e.Info()
			names, size = append(names, name), size+info.Size()
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names, size
}

func TestPutGet(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out", ".keep")
	d := openDir(t, path, 0)
	if _, err := os.Stat(path); err == nil {
		t.Error("Open made the folder")
	}
	if _, ok := d.Get(key("a")); ok {
		t.Error("an empty store has an entry")
	}
	put(t, d, "a", 5)
	if err := d.Put(key("nothing"), nil); err != nil {
		t.Fatal(err)
	}
	for _, d := range []*keep.Dir{d, openDir(t, path, 0)} {
		if got, ok := d.Get(key("a")); !ok || string(got) != "aaaaa" {
			t.Errorf("Get(a) = %q, %v", got, ok)
		}
		if got, ok := d.Get(key("nothing")); !ok || len(got) != 0 {
			t.Errorf("Get(nothing) = %q, %v", got, ok)
		}
	}
	put(t, d, "a", 2)
	if got, _ := d.Get(key("a")); string(got) != "aa" {
		t.Errorf("Get(a) after a second Put = %q", got)
	}
	if names, _ := files(t, path); len(names) != 2 {
		t.Errorf("files: %v", names)
	}
}

// Whatever is done to the file of an entry, Get gives the data or nothing.
func TestDamageCountsAsAbsent(t *testing.T) {
	path := t.TempDir()
	d := openDir(t, path, 0)
	put(t, d, "a", 40)
	names, _ := files(t, path)
	whole, _ := os.ReadFile(names[0])
	damage := map[string][]byte{
		"empty":        {},
		"one too many": append(bytes.Clone(whole), 0),
		"another word": []byte("kept 2" + string(whole[6:])),
	}
	for n := range whole {
		damage[fmt.Sprintf("cut at %d", n)] = whole[:n]
		flipped := bytes.Clone(whole)
		flipped[n] ^= 1
		damage[fmt.Sprintf("flipped at %d", n)] = flipped
	}
	for how, file := range damage {
		if err := os.WriteFile(names[0], file, 0o600); err != nil {
			t.Fatal(err)
		}
		if got, ok := d.Get(key("a")); ok {
			t.Errorf("%s: Get = %q", how, got)
		}
		if _, err := os.Stat(names[0]); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: the file still stands", how)
		}
	}
	put(t, d, "a", 1)
	put(t, d, "b", 1)
	names, _ = files(t, path)
	if err := os.Rename(names[0], names[1]); err != nil {
		t.Fatal(err)
	}
	_, a := d.Get(key("a"))
	_, b := d.Get(key("b"))
	if a || b {
		t.Error("a renamed entry was believed")
	}
}

func TestLeastAskedForGoesFirst(t *testing.T) {
	path := t.TempDir()
	const entry = 8 + 32 + 100 // word, checksum, data
	d := openDir(t, path, 3*entry)
	for _, name := range []string{"a", "b", "c"} {
		put(t, d, name, 100)
	}
	d.Get(key("a"))
	put(t, d, "d", 100)
	has := func(d *keep.Dir) string {
		var got strings.Builder
		for _, name := range []string{"a", "b", "c", "d"} {
			if _, ok := d.Get(key(name)); ok {
				got.WriteString(name)
			}
		}
		return got.String()
	}
	if got := has(d); got != "acd" {
		t.Errorf("kept %s, want acd", got)
	}
	put(t, d, "e", 3*entry) // alone more than the bound
	if got := has(d); got != "acd" {
		t.Errorf("kept %s after an entry too large, want acd", got)
	}
	if got := has(openDir(t, path, 2*entry)); got != "cd" {
		t.Errorf("kept %s once opened with less room, want cd", got)
	}
}

func TestNeverPastTheBound(t *testing.T) {
	base := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		path, err := os.MkdirTemp(base, "")
		if err != nil {
			t.Fatal(err)
		}
		most := int64(rapid.IntRange(40, 2000).Draw(t, "most"))
		d, err := keep.Open(path, keep.Options{Most: most, Now: ticks()})
		if err != nil {
			t.Fatal(err)
		}
		last := map[string]int{}
		for range rapid.IntRange(1, 12).Draw(t, "puts") {
			name := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "name")
			size := rapid.IntRange(0, 900).Draw(t, "size")
			if err := d.Put(key(name), make([]byte, size)); err != nil {
				t.Fatal(err)
			}
			if int64(size)+40 <= most {
				last[name] = size
			}
			if got, ok := d.Get(key(name)); ok && len(got) != last[name] {
				t.Fatalf("Get gives %d bytes, want %d", len(got), last[name])
			}
		}
		held := int64(0)
		_ = filepath.WalkDir(path, func(_ string, e fs.DirEntry, _ error) error {
			if info, err := e.Info(); err == nil && !e.IsDir() {
				held += info.Size()
			}
			return nil
		})
		if held > most {
			t.Fatalf("%d bytes held, bound %d", held, most)
		}
	})
}

func TestLeftOverTemporaryFiles(t *testing.T) {
	path := t.TempDir()
	d := openDir(t, path, 0)
	put(t, d, "a", 1)
	names, _ := files(t, path)
	folder := filepath.Dir(names[0])
	long := time.Date(2026, 11, 1, 9, 0, 0, 0, time.UTC)
	for name, when := range map[string]time.Time{".new-old": long, ".new-fresh": long.Add(24 * time.Hour), "theirs": long} {
		file := filepath.Join(folder, name)
		if err := os.WriteFile(file, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(file, when, when); err != nil {
			t.Fatal(err)
		}
	}
	openDir(t, path, 1) // too small for anything
	names, _ = files(t, path)
	for i, name := range names {
		names[i] = filepath.Base(name)
	}
	if got := strings.Join(names, " "); got != ".new-fresh theirs" {
		t.Errorf("left: %s", got)
	}
}

// The folder may be deleted at any time, and be in the way of nothing.
func TestFolderDeleted(t *testing.T) {
	path := filepath.Join(t.TempDir(), ".keep")
	d := openDir(t, path, 0)
	put(t, d, "a", 1)
	if err := os.RemoveAll(path); err != nil {
		t.Fatal(err)
	}
	if _, ok := d.Get(key("a")); ok {
		t.Error("a deleted entry is there")
	}
	put(t, d, "a", 1)
	if _, ok := d.Get(key("a")); !ok {
		t.Error("not kept anew")
	}
}

func TestWorldFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	d := openDir(t, path, 0)
	if err := d.Put(key("a"), []byte("a")); err == nil {
		t.Error("Put under a file succeeds")
	}
	if _, ok := d.Get(key("a")); ok {
		t.Error("Get under a file succeeds")
	}
}

func TestManyAtOnce(t *testing.T) {
	path := t.TempDir()
	one, two := openDir(t, path, 1000), openDir(t, path, 1000)
	var group sync.WaitGroup
	for i := range 8 {
		group.Go(func() {
			d := []*keep.Dir{one, two}[i%2]
			for n := range 20 {
				name := string(rune('a' + n%5))
				if err := d.Put(key(name), bytes.Repeat([]byte(name), 100)); err != nil {
					t.Error(err)
				}
				if got, ok := d.Get(key(name)); ok && string(got) != strings.Repeat(name, 100) {
					t.Errorf("Get(%s) = %q", name, got)
				}
			}
		})
	}
	group.Wait()
	if _, size := files(t, path); size > 2000 {
		t.Errorf("%d bytes held by two, want at most 2000", size)
	}
}

func Example() {
	folder, err := os.MkdirTemp("", "keep")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	d, err := keep.Open(folder, keep.Options{Most: 1 << 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	recipe := sha256.Sum256([]byte("how it was made"))
	if err := d.Put(recipe, []byte("what was made")); err != nil {
		fmt.Println(err)
	}
	data, ok := d.Get(recipe)
	fmt.Printf("%s %v\n", data, ok)
	// Output: what was made true
}
