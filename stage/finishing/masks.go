package finishing

import (
	"scalewright/model"
)

// masks are the faces to keep free of paint, and why.
func (in Input) masks() []model.Mask {
	var out []model.Mask
	glued := false
	for _, s := range in.Division.Seams {
		if s.Removable {
			out = append(out, model.Mask{What: "both sides of " + s.ID, Why: "it comes apart, and paint would close it"})
		} else {
			glued = true
		}
	}
	if glued {
		out = append(out, model.Mask{What: "spigots, sockets and faces to be glued, when priming pieces", Why: "glue holds on bare plastic, sanded"})
	}
	for _, w := range in.Division.Windows {
		switch {
		case w.Opening.Panel:
			out = append(out, model.Mask{What: "the rim and ledge of " + w.Opening.ID, Why: "the panel comes off, and paint would close its gap"})
		default:
			out = append(out, model.Mask{What: "the rim of " + w.Opening.ID, Why: "what sits in it was sized for bare plastic"})
		}
	}
	for _, p := range in.Parts {
		if !p.Finished {
			out = append(out, model.Mask{What: p.ID, Why: "it stays as printed"})
		}
	}
	return out
}
