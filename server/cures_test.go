package server_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/job/recipe"
)

// cureMemo spares the demo's photograph from being measured for each.
var cureMemo = recipe.NewMemo(recipe.Options{})

func derived(t *testing.T, f *build.Folder) (job.Result, build.Loaded) {
	t.Helper()
	l, err := f.Load()
	if err != nil {
		t.Fatal(err)
	}
	r, err := job.Run(context.Background(), job.Input{
		Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks, Outlines: l.Outlines,
		Models: l.Files, Events: l.Events, Kept: l.Kept, Seed: 1, Memo: cureMemo,
	})
	if err != nil {
		t.Fatal(err)
	}
	return r, l
}

// Every cure takes its finding away: tried on builds with mistakes in them, and on
// others where one is made.
func TestCuresCure(t *testing.T) {
	tried := map[finding.Code]bool{}
	try := func(name, from string, changes ...build.Change) {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "build")
			if err := build.Copy(dir, os.DirFS(from)); err != nil {
				t.Fatal(err)
			}
			f, err := build.Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			l, err := f.Load()
			if err != nil {
				t.Skipf("a mistake of form, which no stage sees: %v", err)
			}
			if _, err := f.Edit(l.Revision, "", changes...); err != nil {
				t.Fatal(err)
			}
			r, l := derived(t, f)
			for _, x := range r.Findings {
				if x.Edit == nil {
					continue
				}
				tried[x.Code] = true
				revision, err := f.Edit(l.Revision, "", build.Change{Op: build.Put, At: x.Edit.At, Text: x.Edit.Text})
				if err != nil {
					t.Errorf("%s: put %s at %s: %v", x.Code, x.Edit.Text, x.Edit.At.Path, err)
					continue
				}
				after, _ := derived(t, f)
				for _, y := range after.Findings {
					if y.Code == x.Code && y.At == x.At && y.Part == x.Part {
						t.Errorf("%s is still there with %s at %s: %s", x.Code, x.Edit.Text, x.Edit.At.Path, finding.Writer{}.Message(y))
					}
				}
				if _, back, err := f.Undo(revision); err != nil {
					t.Fatal(err)
				} else {
					l.Revision = back
				}
			}
		})
	}
	for _, group := range []string{"ten-mistakes", "later-mistakes"} {
		dirs, err := filepath.Glob("../examples/" + group + "/*/build.yaml")
		if err != nil || len(dirs) != 10 {
			t.Fatalf("%d builds in %s, %v", len(dirs), group, err)
		}
		for _, file := range dirs {
			try(filepath.Base(filepath.Dir(file)), filepath.Dir(file))
		}
	}
	put := func(path, text string) build.Change {
		return build.Change{Op: build.Put, At: finding.Place{File: build.BuildFile, Path: path}, Text: text}
	}
	const demo = "../examples/foyer-rocket"
	for name, changes := range map[string][]build.Change{
		"coats on bare prints":       {put("finish.seen", "none")},
		"a weak floor":               {put("stands.floor_bears_kg_m2", "115"), put("stand.across", "400 mm")},
		"a post that hardly reaches": {put("stand.engage", "60 mm")},
		"a show that flashes":        {put("shows.idle.period_s", "0.2")},
		"a hole under a fin":         {put("openings.launch-hole.at", "38 ref"), put("openings.launch-hole.clocking_deg", "40")},
		"a panel too small":          {put("openings.hatch.wide", "20 mm")},
		"a panel in a thin wall":     {put("parts.body.wall", "1.3 mm")},
		"parts that do not meet":     {put("parts.tail.from", "15 ref")},
		"parts that overlap":         {put("parts.tail.from", "13 ref")},
		"a base too small":           {put("stand.across", "200 mm"), put("stand.ballast", "0 kg")},
		"a fin that is screwed":      {put("joints.fins-body.kind", "screwed"), put("joints.fins-tail.kind", "dowelled")},
	} {
		try(name, demo, changes...)
	}
	for _, c := range job.Curable() {
		if !tried[c] {
			t.Errorf("the cure of %s was not tried", c)
		}
	}
}
