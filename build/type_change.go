package build

import (
	"errors"
	"fmt"
	"strings"

	"scalewright/finding"
)

// Op is what a change does to a value.
type Op uint8

const (
	// Put sets a value, adding the key where it is not there.
	Put Op = iota
	// Add adds a key, with those above it, or the next item of a list.
	Add
	// Drop takes a key or item out, with the comments inside it.
	Drop
)

// Change is one change of build.yaml or shop.yaml. Text is one line of YAML: a
// scalar as it stands in the file (see [Quote]), or a list or mapping in
// brackets.
type Change struct {
	Op   Op
	At   finding.Place
	Text string
}

// name of a change for people: "wall of tail".
func (c Change) name() string {
	keys := strings.Split(c.At.Path, ".")
	name := keys[len(keys)-1]
	if len(keys) > 1 {
		name += " of " + keys[len(keys)-2]
	}
	switch c.Op {
	case Add:
		return "new " + name
	case Drop:
		return "without " + name
	}
	return name
}

// Conflict is the error of an edit of a text that has changed since it was
// read. Nothing was written.
type Conflict struct {
	Seen, Is int // revisions
}

func (c *Conflict) Error() string {
	return fmt.Sprintf("the build is at revision %d, but the edit was made on revision %d; load it again", c.Is, c.Seen)
}

// CannotEdit is the error of a change that cannot be made in the text, such as
// one of a key that is not there. Nothing was written.
type CannotEdit struct {
	At  finding.Place
	Why string
}

func (c *CannotEdit) Error() string {
	return fmt.Sprintf("cannot change %s in %s: %s", c.At.Path, c.At.File, c.Why)
}

// ErrNothing is the error of an undo or redo when there is nothing left.
var ErrNothing = errors.New("nothing to undo or redo")
