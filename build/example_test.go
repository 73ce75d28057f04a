package build_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// startFolder starts a build in a folder that is removed again.
func startFolder() (f *build.Folder, end func()) {
	parent, err := os.MkdirTemp("", "build")
	if err != nil {
		panic(err)
	}
	dir := filepath.Join(parent, "spindle")
	if err := build.New(dir, "Spindle"); err != nil {
		panic(err)
	}
	f, err = build.Open(dir)
	if err != nil {
		panic(err)
	}
	return f, func() { _ = errors.Join(f.Close(), os.RemoveAll(parent)) }
}

func ExampleFolder_Load() {
	f, end := startFolder()
	defer end()
	l, err := f.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range l.Declared.Parts {
		fmt.Println(p.ID, p.From, p.To, l.Locate(p.At))
	}
	// Output:
	// base 0 ref 30 ref build.yaml:28:3
	// shaft 30 ref 95 ref build.yaml:32:3
	// knob 95 ref 120 ref build.yaml:36:3
}

func ExampleUnreadable() {
	f, end := startFolder()
	defer end()
	file := filepath.Join(f.Dir(), build.BuildFile)
	text, _ := os.ReadFile(file)
	_ = os.WriteFile(file, append(text, "cutz: 3\n"...), 0o666)
	_, err := f.Load()
	if bad, ok := errors.AsType[*build.Unreadable](err); ok {
		_ = bad.Print(os.Stdout, unit.Metric)
	}
	// Output:
	// build.yaml:48:1: blocker unknown-key: cutz is not a key that stands here
	//     do: did you mean cuts?
}

func ExampleFolder_Set() {
	f, end := startFolder()
	defer end()
	wall := finding.Place{File: build.BuildFile, Path: "parts.shaft.wall"}
	revision, err := f.Set(1, wall, "3 mm")
	fmt.Println(revision, err)
	_, err = f.Set(1, wall, "4 mm")
	fmt.Println(err)
	name, revision, err := f.Undo(revision)
	fmt.Println(name, revision, err)
	// Output:
	// 2 <nil>
	// the build is at revision 2, but the edit was made on revision 1; load it again
	// wall of shaft 3 <nil>
}

func ExampleFolder_Release() {
	f, end := startFolder()
	defer end()
	label, number, err := f.Release(build.Release{
		Seen:  1,
		Piece: model.PieceID{Kind: model.Shell, Part: "knob", From: model.Foot, To: model.Nose},
		Files: map[string][]byte{"knob.3mf": []byte("…")},
		Event: model.Event{Time: "2026-12-01T19:00:00+01:00", Printer: "first"},
	})
	fmt.Println(label, number, err)
	// Output: A1 1 <nil>
}

func ExampleFolder_Out() {
	f, end := startFolder()
	defer end()
	w, err := f.Out("")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer func() { _ = w.Abort() }()
	file, err := w.Create("pieces/knob.stl")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Fprint(file, "…")
	fmt.Println(file.Close(), w.Commit())
	// Output: <nil> <nil>
}
