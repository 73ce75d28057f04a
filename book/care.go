package book

import (
	"slices"

	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/calendar"
)

// Cautions, each said wherever the work that it is for is asked for.
const (
	carePrint  = "Nozzle and platform are hot: let them cool before you take a piece off. Ventilate the room while it prints."
	careSand   = "Sand wet, or wear a P2 or N95 mask."
	careGlue   = "Keep glue off skin and eyes: gloves and glasses."
	careSaw    = "Clamp the pipe or rod and saw it slowly, without heat, with glasses and a P2 or N95 mask: hot PVC gives off poisonous fumes."
	careLift   = "Lift what is long or heavy together with somebody, and keep what stands from tipping over."
	careSolder = "Solder with lead-free wire, glasses and the fumes drawn off; nothing is connected to mains or a battery while you do."
	careLaw    = "Follow local rules."
)

// Care is the cautions that a list of acts calls for.
func Care(acts []calendar.Act) string {
	does := func(kind string) bool {
		return slices.ContainsFunc(acts, func(a calendar.Act) bool { return a.Task.Kind == kind })
	}
	words := ""
	if does(calendar.KindPrint) {
		words += carePrint + " "
	}
	if does(string(model.Saw)) {
		words += careSaw + " "
	}
	if does(string(model.Join)) {
		words += careSand + " " + careGlue + " " + careLift + " "
	} else if does(string(model.Raise)) {
		words += careLift + " "
	}
	if does(string(model.Solder)) || does(string(model.Draw)) {
		words += careSolder + " "
	}
	return words + careLaw
}

// care is the cautions that the work on one piece calls for.
func care(r job.Result, i int) string {
	piece := r.Division.Pieces[i]
	words := carePrint + " " + careSand
	glued := slices.ContainsFunc(r.Division.Seams, func(s model.Seam) bool {
		return (s.Below == piece.ID || s.Above == piece.ID) && !s.Removable
	})
	if glued || piece.ID.Kind != model.Shell {
		words += " " + careGlue
	}
	if piece.ID.Kind == model.CoreRing {
		words += " " + careSaw
	}
	return words + " " + careLaw
}
