package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"syscall"

	"github.com/alecthomas/kong"

	"scalewright/build"
	"scalewright/job/recipe"
	"scalewright/unit"
)

// Exit statuses of the command contract.
const (
	exitDone    = 0
	exitBlocked = 1
	exitUnread  = 2
	exitFailed  = 3
)

// cli is the command line: each command is a struct, its help in the tags.
type cli struct {
	Units string `help:"Lengths in mm, or in feet, inches and sixteenths: mm or ft." enum:"mm,ft" default:"mm"`

	New     newCmd     `cmd:"" help:"Start a build in an empty folder."`
	Measure measureCmd `cmd:"" help:"Measure a reference in a photograph: its outline, each value with its doubt."`
	Check   checkCmd   `cmd:"" help:"Run the stages and print what they found."`
	Make    makeCmd    `cmd:"" help:"Run everything, write out/ and print the verdict."`
	Sizes   sizesCmd   `cmd:"" help:"Ratios worth considering, with what each would take."`
	Today   todayCmd   `cmd:"" help:"What to do now."`
	Log     logCmd     `cmd:"" help:"Record what happened."`
	Serve   serveCmd   `cmd:"" help:"Serve the page, on this machine alone unless told otherwise."`
	Undo    undoCmd    `cmd:"" help:"Take the last edit of the build back."`
	Redo    redoCmd    `cmd:"" help:"Do the last edit again that was taken back."`
	Mesh    meshCmd    `cmd:"" help:"Work on mesh files."`
	Doctor  doctorCmd  `cmd:"" help:"Check that this program and machine work."`
}

// face is where a command talks: results on out, talk and progress on talk.
type face struct {
	out, talk io.Writer
	system    unit.System
}

// errBlocked says that a blocker was found and printed.
var errBlocked = errors.New("blocked")

// usageError is a mistake in how a command was called, with what to do.
type usageError struct{ what, do string }

func (e *usageError) Error() string { return e.what + "\n    do: " + e.do }

func run(ctx context.Context, args []string, out, talk io.Writer) int {
	var c cli
	exited, status := false, 0
	parser, err := kong.New(
		&c,
		kong.Name("scalewright"),
		kong.Description("From a photograph of a small object to an oversize display piece that goes together the first time."),
		kong.Writers(out, talk),
		kong.Exit(func(n int) { exited, status = true, n }),
		kong.BindTo(ctx, (*context.Context)(nil)),
	)
	if err != nil {
		panic("scalewright: internal error: " + err.Error())
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	args = figuresToFlags(args)
	parsed, err := parser.Parse(args)
	if exited {
		return status
	}
	f := &face{out: out, talk: talk}
	if err != nil {
		if loose := looseFigure(args); loose != nil {
			err = loose
		} else {
			err = &usageError{err.Error(), "scalewright --help lists the commands"}
		}
		return f.status(err)
	}
	if c.Units == "ft" {
		f.system = unit.FeetInches
	}
	return f.status(parsed.Run(f))
}

func printJSON(w io.Writer, v any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(v)
}

// status prints what went wrong and says the exit status for it.
func (f *face) status(err error) int {
	var unread *build.Unreadable
	var usage *usageError
	var refused *build.OutRefused
	var bug *recipe.Bug
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errBlocked):
		return exitBlocked
	case errors.As(err, &unread):
		_ = unread.Print(f.talk, f.system)
		return exitUnread
	case errors.As(err, &usage):
		fmt.Fprintf(f.talk, "scalewright: %v\n", usage)
		return exitUnread
	case errors.As(err, &refused):
		fmt.Fprintf(f.talk, "scalewright: %v\n    do: %s\n", refused, refused.Do)
		return exitUnread
	case errors.Is(err, build.ErrNotEmpty):
		fmt.Fprintf(f.talk, "scalewright: %v\n    do: name an empty folder or a new one\n", err)
		return exitUnread
	case errors.As(err, &bug):
		fmt.Fprintf(f.talk, "scalewright: %v\n%s    do: this is a fault of ours; the build is as it was. Please report it with this text.\n", bug, bug.Stack)
		return exitFailed
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(f.talk, "scalewright: stopped; the build and its last results are as they were")
		return exitFailed
	case errors.Is(err, fs.ErrNotExist):
		fmt.Fprintf(f.talk, "scalewright: %v\n    do: check the name; scalewright new DIR starts a build\n", err)
		return exitUnread
	}
	fmt.Fprintf(f.talk, "scalewright: %v\n    do: %s\n", err, whatHelps(err))
	return exitFailed
}

// whatHelps is what to do where a disk or the network fails.
func whatHelps(err error) string {
	const asWas = "; the build and its last results are as they were"
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return "make room on the disk and run it again" + asWas
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "check who may read and write there, or copy the build to where you may" + asWas
	}
	return "run it again" + asWas + ". If it says the same, report it with this text."
}
