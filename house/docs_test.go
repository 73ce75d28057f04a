package house_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var link = regexp.MustCompile(`\]\(([^)#\s]+)(?:#[^)]*)?\)`)

// Every link of every document points at a file that is there.
func TestLinksLeadSomewhere(t *testing.T) {
	root := ".."
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == ".git" || d.Name() == "node_modules" || d.Name() == "out") {
			return filepath.SkipDir
		}
		if filepath.Ext(path) != ".md" {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			seen++
			if _, err := os.Stat(filepath.Join(filepath.Dir(path), m[1])); err != nil {
				t.Errorf("%s links to %s, which is not there", path, m[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen == 0 {
		t.Error("no link found: is the test looking in the right place?")
	}
}

// Every stage has its page, and every page of a stage its folder.
func TestEveryStageHasAPage(t *testing.T) {
	stages, err := os.ReadDir("../stage")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range stages {
		if _, err := os.Stat(filepath.Join("../docs", s.Name()+".md")); err != nil {
			t.Errorf("stage %s has no page docs/%s.md", s.Name(), s.Name())
		}
	}
}
