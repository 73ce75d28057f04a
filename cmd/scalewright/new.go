package main

import (
	"fmt"
	"path/filepath"

	"scalewright/build"
)

type newCmd struct {
	Dir  string `arg:"" help:"Folder to start in; made if it is not there, refused if it is not empty."`
	Name string `help:"Name of the build; the folder's name if not given."`
}

func (c *newCmd) Run(f *face) error {
	name := c.Name
	if name == "" {
		name = filepath.Base(filepath.Clean(c.Dir))
	}
	if err := build.New(c.Dir, name); err != nil {
		return err
	}
	fmt.Fprintf(f.out, "%s is started. Edit %s and shop.yaml, then: scalewright make %s\n", name, filepath.Join(c.Dir, build.BuildFile), c.Dir)
	return nil
}
