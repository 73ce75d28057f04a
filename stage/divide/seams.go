package divide

import (
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// seams are where two pieces in a row along one line meet, by station: at cuts
// and between parts.
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
		// A piece cannot stand on its spigot.
		switch wanted.Male() {
		case stock.MaleBelow:
			pieces[i-1].Direction = model.FootDown
		case stock.MaleAbove:
			pieces[i].Direction = model.NoseDown
		}
		below, above = pieces[i-1], pieces[i]
		seam.Kind = jointKind(in, wanted, below, above)
		if !seam.Flat() {
			seam.Engage = engage(unit.Length(2 * inside(in, below, above)))
		}
		out = append(out, seam)
	}
	return out
}

// jointKind is what the maker wants, or: a butt joint where the core runs bored
// through both or the inside is too narrow for more; a collar where the lower
// piece is printed on its nose, which a spigot would spoil; else a spigot.
func jointKind(in Input, wanted model.JointKind, below, above model.Piece) model.JointKind {
	at := above.Span.From
	deep := engage(unit.Length(2 * inside(in, below, above)))
	switch {
	case above.ID.Kind == model.Slice:
		return model.Butt // their inside is not turned, so nothing round fits it
	case wanted != "":
		return wanted
	case !above.Own && in.Core != nil && in.Core.Hold == model.Bored && in.Core.Span.Holds(at):
		return model.Butt
	case cavity(in, above, at, at+deep+ringThick+model.EndGap) < leastSpigot:
		return model.Butt
	case below.Direction == model.NoseDown && cavity(in, below, at-deep, at) < leastSpigot:
		return model.Butt
	case below.Direction == model.NoseDown:
		return model.Collar
	}
	return model.Spigot
}

// inside is the least radius of the cavities near a seam.
func inside(in Input, below, above model.Piece) float64 {
	at := above.Span.From
	return min(cavity(in, below, at-1, at), cavity(in, above, at, at+1))
}

// cavity is the least radius inside a piece between two stations.
func cavity(in Input, p model.Piece, from, to unit.Length) float64 {
	raw := workOf(in, p.ID.Part).raw
	return model.LowestBetween(raw.Cavity(p.Direction), float64(max(from, p.Span.From)), float64(min(to, p.Span.To)))
}

// unheld says which joints come apart by themselves.
func unheld(in Input, seams []model.Seam) finding.List {
	var found finding.List
	for _, s := range seams {
		if !s.Flat() || !s.Removable {
			continue
		}
		k := slices.IndexFunc(in.Interfaces, func(f model.Interface) bool { return f.ID == s.ID })
		found.Add(finding.New("nothing-holds", in.Interfaces[k].At, finding.Args{"joint": finding.Name(s.ID)}).
			About(s.Above.Part).AtStation(s.Station))
	}
	return found
}
