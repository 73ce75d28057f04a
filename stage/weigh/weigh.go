package weigh

import (
	"cmp"
	"context"
	"slices"

	"scalewright/finding"
	"scalewright/model"
)

// Run ranks the candidates.
func Run(_ context.Context, in []model.Candidate) ([]model.Candidate, finding.List, error) {
	out := slices.Clone(in)
	slices.SortStableFunc(out, func(a, b model.Candidate) int {
		return cmp.Or(stands(a)-stands(b), cmp.Compare(a.Safe, b.Safe), cmp.Compare(a.Ratio, b.Ratio))
	})
	praise(out, "soonest", func(a, b model.Candidate) int { return cmp.Compare(a.Safe, b.Safe) })
	praise(out, "cheapest", func(a, b model.Candidate) int { return cmp.Compare(a.Cost, b.Cost) })
	praise(out, "fewest pieces", func(a, b model.Candidate) int { return cmp.Compare(a.Pieces, b.Pieces) })
	praise(out, "largest", func(a, b model.Candidate) int { return cmp.Compare(b.Ratio, a.Ratio) })
	return out, nil, nil
}

// stands is 1 where a blocker stands in the way.
func stands(c model.Candidate) int {
	if c.Blocked != "" {
		return 1
	}
	return 0
}

// praise names the one that is alone the best of those that can be made.
func praise(all []model.Candidate, what string, order func(a, b model.Candidate) int) {
	best, alone := -1, true
	for i, c := range all {
		if c.Blocked != "" {
			continue
		}
		switch {
		case best < 0 || order(c, all[best]) < 0:
			best, alone = i, true
		case order(c, all[best]) == 0:
			alone = false
		}
	}
	if best >= 0 && alone {
		all[best].Best = append(slices.Clone(all[best].Best), what)
	}
}
