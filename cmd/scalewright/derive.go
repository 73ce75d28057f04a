package main

import (
	"context"
	"os"
	"path/filepath"

	"scalewright/build"
	"scalewright/build/keep"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/job/recipe"
)

// opened is a build folder with what it says.
type opened struct {
	*build.Folder
	loaded build.Loaded
}

func openBuild(dir string) (*opened, error) {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return nil, &usageError{dir + " is a file", "give the folder of the build: " + filepath.Dir(dir)}
	}
	folder, err := build.Open(dir)
	if err != nil {
		return nil, err
	}
	loaded, err := folder.Load()
	if err != nil {
		folder.Close()
		return nil, err
	}
	return &opened{folder, loaded}, nil
}

// input is the build as the job takes it, remembering what it can in out/.keep.
func (o *opened) input() job.Input {
	in := job.Input{
		Declared: o.loaded.Declared,
		Photo:    o.loaded.Files[o.loaded.Declared.Reference.Photo],
		Marks:    o.loaded.Marks,
		Outlines: o.loaded.Outlines,
		Models:   o.loaded.Files,
		Events:   o.loaded.Events,
		Kept:     o.loaded.Kept,
		Seed:     1,
	}
	options := recipe.Options{}
	if kept, err := keep.Open(filepath.Join(o.Dir(), build.OutDir, ".keep"), keep.Options{}); err == nil {
		options.Keeper = kept // without it the stages only work again
	}
	in.Memo = recipe.NewMemo(options)
	return in
}

// derive runs the stages.
func (f *face) derive(ctx context.Context, o *opened) (job.Result, error) {
	return f.deriveFrom(ctx, o, o.input())
}

func (f *face) deriveFrom(ctx context.Context, o *opened, in job.Input) (job.Result, error) {
	bars := f.progress()
	in.Progress = bars
	result, err := job.Run(ctx, in)
	bars.close()
	result.Findings = append(result.Findings, o.loaded.Findings...).Sorted()
	return result, err
}

// unblocked is derive for commands that can't answer past a blocker: they print
// what was found instead.
func (f *face) unblocked(ctx context.Context, o *opened) (job.Result, error) {
	result, err := f.derive(ctx, o)
	if err == nil && result.Blocked() {
		f.print(o, result.Findings)
		err = errBlocked
	}
	return result, err
}

// writer renders findings with their lines.
func (f *face) writer(o *opened) finding.Writer {
	return finding.Writer{System: f.system, Locate: o.loaded.Locate}
}
