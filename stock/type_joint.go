package stock

import (
	_ "embed"
	"slices"
)

// Joint is a kind of joint. What it takes of the pieces beside it follows from what
// goes into what, so a stage asks that and not for a name.
type Joint struct {
	ID     string
	Word   string // as a build file writes it
	Where  JointPlace
	Male   Male
	Source string
	Basis  string
}

// JointPlace is where a kind of joint can be made.
type JointPlace string

// Places of joints.
const (
	AtSeam  JointPlace = "seam"  // between two pieces in a row along one axis
	AtMount JointPlace = "mount" // where a guest meets its host
	AtBoth  JointPlace = "both"
)

// Male is what goes in: of a mount the host lies below.
type Male string

// What goes in.
const (
	NoMale    Male = "none"
	MaleBelow Male = "below" // a part of the lower piece
	MaleAbove Male = "above" // a part of the upper piece
	MaleOwn   Male = "own"   // a piece of its own, in both
)

//go:embed joints.csv
var jointsCSV string

var joints = func() []Joint {
	var out []Joint
	for _, r := range rows(jointsCSV) {
		out = append(out, Joint{
			ID: r.text("id"), Word: r.text("word"), Where: JointPlace(r.text("at")), Male: Male(r.text("male")),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return out
}()

// Joints are all kinds of joint, in the table's order.
func Joints() []Joint { return slices.Clone(joints) }

// FindJoint is the kind of an id or of the word a build file writes.
func FindJoint(name string) (Joint, bool) {
	i := slices.IndexFunc(joints, func(j Joint) bool { return j.ID == name || j.Word == name })
	if i < 0 {
		return Joint{}, false
	}
	return joints[i], true
}

// Can reports whether the kind can be made there.
func (j Joint) Can(where JointPlace) bool { return j.Where == AtBoth || j.Where == where }
