package divide

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// kinds looks that each kind of joint a maker wants can be made where he wants it.
func kinds(in Input) finding.List {
	var found finding.List
	look := func(kind model.JointKind, where stock.JointPlace, at finding.Place, what, part string) {
		j, ok := stock.FindJoint(string(kind))
		if kind == "" || ok && j.Can(where) {
			return
		}
		var can []string
		for _, j := range stock.Joints() {
			if j.Can(where) {
				can = append(can, j.Word)
			}
		}
		found.Add(finding.New("kind-not-here", at, finding.Args{
			"kind": finding.Name(string(kind)), "joint": finding.Name(what), "can": finding.Names(can...),
		}).About(part))
	}
	for _, f := range in.Interfaces {
		look(f.Kind, stock.AtSeam, f.At, f.ID, f.Above)
	}
	for _, c := range in.Cuts {
		look(c.Kind, stock.AtSeam, c.At, c.ID, c.Part)
	}
	for _, m := range in.Mounts {
		look(m.Kind, stock.AtMount, m.At, m.ID, m.Guest)
	}
	return found
}

// standing looks that every piece has an end to stand on in print.
func standing(in Input, d model.Division) finding.List {
	var found finding.List
	for _, p := range d.Pieces {
		var at []unit.Length
		for _, s := range d.Seams {
			if s.Stands(p.ID) {
				at = append(at, s.Station)
			}
		}
		if len(at) > 1 {
			found.Add(finding.New("spigot-at-both-ends", workOf(in, p.ID.Part).part.At, finding.Args{
				"piece": finding.Name(p.Name), "foot": finding.Long(at[0]), "nose": finding.Long(at[1]),
			}).About(p.ID.Part).AtStation(at[0]))
		}
	}
	return found
}
