package divide

import (
	"slices"

	"scalewright/model"
	"scalewright/unit"
)

// seams are where two shells meet, by station: at cuts and between parts.
func seams(in Input, pieces []model.Piece, cuts []model.Cut) []model.Seam {
	var out []model.Seam
	for i := 1; i < len(pieces); i++ {
		below, above := pieces[i-1], pieces[i]
		seam := model.Seam{Station: above.Span.From, Below: below.ID, Above: above.ID}
		var wanted model.JointKind
		if below.ID.Part == above.ID.Part {
			k := slices.IndexFunc(cuts, func(c model.Cut) bool { return c.Part == above.ID.Part && c.ID == above.ID.From })
			seam.ID, wanted = above.ID.Part+"."+cuts[k].ID, cuts[k].Kind
		} else {
			k := slices.IndexFunc(in.Interfaces, func(f model.Interface) bool {
				return f.Below == below.ID.Part && f.Above == above.ID.Part
			})
			face := in.Interfaces[k]
			seam.ID, wanted, seam.Glue, seam.Removable = face.ID, face.Kind, face.Glue, face.Removable
		}
		seam.Kind = jointKind(in, wanted, below, seam.Station)
		if seam.Kind != model.Butt {
			seam.Engage = engage(unit.Length(2 * inside(in, seam)))
		}
		out = append(out, seam)
	}
	return out
}

// jointKind is what the maker wants, or: a butt joint where the core runs bored
// through both; a collar where the lower piece is printed on its nose, which a
// spigot would spoil; else a spigot.
func jointKind(in Input, wanted model.JointKind, below model.Piece, at unit.Length) model.JointKind {
	switch {
	case wanted != "":
		return wanted
	case in.Core != nil && in.Core.Hold == model.Bored && in.Core.Span.Holds(at):
		return model.Butt
	case below.Direction == model.NoseDown:
		return model.Collar
	}
	return model.Spigot
}

// inside is the least radius of the cavities near a seam.
func inside(in Input, s model.Seam) float64 {
	z := float64(s.Station)
	lowest := func(part string, from, to float64) float64 {
		return model.LowestBetween(workOf(in, part).raw.FootDown, from, to)
	}
	return min(lowest(s.Below.Part, z-1, z), lowest(s.Above.Part, z, z+1))
}
