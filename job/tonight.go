package job

import (
	"cmp"
	"slices"

	"scalewright/finding"
	"scalewright/model"
)

// tonight is the piece to print now: the longest one not printed yet among
// those not released, which no open finding and no provisional cut can still change; failing
// that, none.
func tonight(r Result, found finding.List) string {
	provisional := map[string]bool{}
	for _, c := range r.Division.Cuts {
		if c.Provisional {
			provisional[c.Part+"."+c.ID] = true
		}
	}
	var safe []model.Print
	for i, p := range r.Prints {
		piece := r.Division.Pieces[i]
		id := piece.ID
		touched := provisional[id.Part+"."+id.From] || provisional[id.Part+"."+id.To]
		printed := slices.Contains(r.Facts.Done, "print."+id.String())
		// A released piece is what lies in made/, not what is derived here.
		made := slices.ContainsFunc(r.Facts.Made, func(m model.Made) bool { return m.Piece == id.String() })
		named := slices.ContainsFunc(found, func(f finding.Finding) bool {
			return f.Severity > finding.Note && f.Part == id.Part
		})
		if !touched && !printed && !made && !named {
			safe = append(safe, p)
		}
	}
	if len(safe) == 0 {
		return ""
	}
	longest := slices.MaxFunc(safe, func(a, b model.Print) int {
		return cmp.Or(cmp.Compare(a.Minutes, b.Minutes), cmp.Compare(b.Piece.String(), a.Piece.String()))
	})
	return longest.Piece.String()
}
