package finishing

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// unplanned says that coats were asked for on what stays as printed.
func (in Input) unplanned() finding.List {
	if in.Finish.Colour+in.Finish.Clear == 0 {
		return nil
	}
	return finding.List{finding.New("coats-unplanned", in.Finish.At, finding.Args{
		"coats": finding.Count(in.Finish.Colour + in.Finish.Clear),
	})}
}

// found is what the finish does to what was sized for bare plastic.
func (in Input) found(f model.Finishing) finding.List {
	var found finding.List
	if len(f.Surfaces) == 0 {
		return nil
	}
	if in.Finish.Colour == 0 {
		found.Add(finding.New("primer-bare", in.Finish.At, nil))
	}
	film := in.films(f)
	for _, s := range in.Division.Seams {
		if s.Removable {
			found.Add(in.closes(s.ID, s.Above.Part, film[s.Below]+film[s.Above])...)
		}
	}
	for _, w := range in.Division.Windows {
		if w.Opening.Panel {
			found.Add(in.closes(w.Opening.ID, w.Piece.Part, film[w.Piece]+film[w.Panel])...)
		}
	}
	return found
}

// films are what all coats add to a face of each piece; none of what is not seen.
func (in Input) films(f model.Finishing) map[model.PieceID]unit.Length {
	out := map[model.PieceID]unit.Length{}
	for _, g := range in.Division.Groups(in.Mounts) {
		for _, r := range f.Routes {
			if r.Group != g.ID {
				continue
			}
			for _, p := range g.Pieces {
				out[p] = r.Film
			}
		}
	}
	return out
}

// closes says that coats on both sides would use up the clearance of a joint that
// comes apart: each coat lies on both ends of its diameter.
func (in Input) closes(seam, part string, both unit.Length) finding.List {
	fits := in.Fits.Of(seam)
	if len(fits) == 0 {
		return nil
	}
	tightest := fits[0]
	for _, f := range fits[1:] {
		if f.Clearance.X < tightest.Clearance.X {
			tightest = f
		}
	}
	takes := 2 * both
	if takes == 0 || float64(takes) < tightest.Clearance.X {
		return nil
	}
	return finding.List{finding.New("coats-close", in.Finish.At, finding.Args{
		"joint": finding.Name(seam), "takes": finding.Fine(takes), "clearance": finding.Fine(tightest.Clearance.X),
	}).About(part).AtStation(tightest.Station)}
}
