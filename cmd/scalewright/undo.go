package main

import (
	"errors"
	"fmt"

	"scalewright/build"
)

type undoCmd struct {
	Dir string `arg:"" help:"Folder of the build."`
}

type redoCmd struct {
	Dir string `arg:"" help:"Folder of the build."`
}

func (c *undoCmd) Run(f *face) error {
	return f.walk(c.Dir, "taken back", func(o *opened) (string, int, error) { return o.Undo(o.loaded.Revision) })
}

func (c *redoCmd) Run(f *face) error {
	return f.walk(c.Dir, "done again", func(o *opened) (string, int, error) { return o.Redo(o.loaded.Revision) })
}

// walk goes a step over the edits of a build.
func (f *face) walk(dir, did string, step func(*opened) (string, int, error)) error {
	o, err := openBuild(dir)
	if err != nil {
		return err
	}
	defer o.Close()
	name, revision, err := step(o)
	if errors.Is(err, build.ErrNothing) {
		return &usageError{"there is nothing left to be " + did, "edits made through the program are kept in history/; those of an editor once another edit follows"}
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(f.out, "%s is %s; revision %d\n", name, did, revision)
	return nil
}
