package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite golden files")

// Each small build of examples/ten-mistakes and examples/later-mistakes has one
// mistake and the output that "check" gives for it in says.txt: exit status first,
// then what is printed.
func TestTenMistakes(t *testing.T)   { mistakes(t, "ten-mistakes") }
func TestLaterMistakes(t *testing.T) { mistakes(t, "later-mistakes") }

func mistakes(t *testing.T, example string) {
	dirs, err := filepath.Glob("../../examples/" + example + "/*/build.yaml")
	if err != nil || len(dirs) != 10 {
		t.Fatalf("found %d builds (%v), want 10", len(dirs), err)
	}
	for _, file := range dirs {
		from := filepath.Dir(file)
		t.Run(filepath.Base(from), func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "build")
			if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
				t.Fatal(err)
			}
			before := tree(t, dir)
			var said bytes.Buffer
			status := run(t.Context(), []string{"check", dir}, &said, &said)
			got := fmt.Sprintf("exit %d\n%s", status, said.String())
			golden := filepath.Join(from, "says.txt")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("check said (-want +got):\n%s", diff)
			}
			if status != exitBlocked && status != exitUnread {
				t.Errorf("exit status %d, want %d or %d", status, exitBlocked, exitUnread)
			}
			if n := strings.Count(got, ": blocker "); n != 1 {
				t.Errorf("%d blockers, want the one mistake", n)
			}
			if strings.Contains(got, ": caution ") {
				t.Error("a caution beside the mistake")
			}
			if diff := cmp.Diff(before, tree(t, dir)); diff != "" {
				t.Errorf("check changed the folder (-before +after):\n%s", diff)
			}
		})
	}
}

// tree is every file of a folder with its text, what can be made again left out.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == "out" {
				return filepath.SkipDir
			}
			return nil
		}
		text, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
