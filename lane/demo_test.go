package lane_test

import (
	"context"
	"sync"
	"testing"

	"scalewright/build"
	"scalewright/job"
	"scalewright/lane"
)

// example derives an example build once.
func example(dir string) func() (*lane.Prepared, error) {
	return sync.OnceValues(func() (*lane.Prepared, error) {
		f, err := build.Open("../examples/" + dir)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		l, err := f.Load()
		if err != nil {
			return nil, err
		}
		r, err := job.Run(context.Background(), job.Input{
			Declared: l.Declared, Photo: l.Files[l.Declared.Reference.Photo], Marks: l.Marks, Outlines: l.Outlines,
			Models: l.Files, Events: l.Events, Kept: l.Kept, Seed: 1,
		})
		return lane.Prepare(r), err
	})
}

var examples = map[string]func() (*lane.Prepared, error){
	"foyer-rocket":  example("foyer-rocket"),
	"angled-handle": example("angled-handle"),
	"letters":       example("letters"),
	"acorn":         example("acorn"),
}

func prepared(t testing.TB, name string) *lane.Prepared {
	t.Helper()
	p, err := examples[name]()
	if err != nil {
		t.Fatal(err)
	}
	if p.Blocked() {
		t.Fatalf("%s is blocked: %v", name, p.Findings)
	}
	return p
}
