package book_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"

	"scalewright/book"
	"scalewright/build"
	"scalewright/job"
)

// derived are the examples with parts that are no stretch of a body, once for all
// tests.
var derived = sync.OnceValues(func() (map[string]job.Result, error) {
	out := map[string]job.Result{}
	for _, name := range []string{"angled-handle", "letters", "acorn"} {
		f, err := build.Open("../examples/" + name)
		if err != nil {
			return nil, err
		}
		l, err := f.Load()
		f.Close()
		if err != nil {
			return nil, err
		}
		r, err := job.Run(context.Background(), job.Input{
			Declared: l.Declared, Marks: l.Marks, Outlines: l.Outlines, Models: l.Files, Seed: 1,
		})
		if err != nil || r.Blocked() {
			return nil, fmt.Errorf("%s: %v, %w", name, r.Findings, err)
		}
		out[name] = r
	}
	return out, nil
})

func forms(t testing.TB) map[string]job.Result {
	t.Helper()
	all, err := derived()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// The page of a piece says of a flat one its length, width and thickness, of one
// turned on its own axis its own height and diameters, of a mesh its size as it
// stands; and none says that it stands on its foot where it lies.
func TestPagesOfForms(t *testing.T) {
	for _, c := range []struct {
		example, piece string
		says           []string
		not            string
	}{
		{"letters", "piece.a.foot.slice", []string{"126", "120", "9 mm thick", "its face", "lying flat", "126 by 120, 9 high"}, "⌀ "},
		{"letters", "piece.board.+1.slice", []string{"168", "180", "board 1 of 3", "board 3 of 3", "along its own line"}, "its foot"},
		{"angled-handle", "piece.handle.foot.nose", []string{"128", "⌀ 28", "⌀ 32", "solid", "its foot", "along its own line"}, "lying flat"},
		{"acorn", "piece.acorn.foot.slice", []string{"141", "bore", "core, beech dowel", "its foot", "194 by 150, 141 high"}, "lying flat"},
	} {
		found := false
		for _, p := range book.Pages(forms(t)[c.example], options()) {
			if p.ID != c.piece {
				continue
			}
			found = true
			text := words(p)
			for _, want := range c.says {
				if !strings.Contains(text, want) {
					t.Errorf("%s does not say %q: %s", c.piece, want, text)
				}
			}
			own, _, _ := strings.Cut(text, "What it joins")
			if strings.Contains(own, c.not) {
				t.Errorf("%s says %q", c.piece, c.not)
			}
		}
		if !found {
			t.Errorf("%s has no page", c.piece)
		}
	}
}

// Nothing of a body is said where there is none.
func TestNoBodyNoWordsOfIt(t *testing.T) {
	pages := book.Pages(forms(t)["letters"], options())
	for _, p := range pages {
		for _, no := range []string{"upper half outside", "Across the body", "on the radius", "NaN", "Inf"} {
			if strings.Contains(words(p), no) {
				t.Errorf("page %q says %q", p.ID, no)
			}
		}
	}
	if v := book.Say(forms(t)["letters"], 0); !strings.Contains(v.Words(), "at an edge") || v.Heading != "At 504 mm it can be made." {
		t.Errorf("the verdict says %q, %q", v.Heading, v.Words())
	}
}
