package structure

import (
	"context"

	"scalewright/craft/handling"
	"scalewright/finding"
	"scalewright/model"
)

// Run weighs, bends and tips the build.
func Run(_ context.Context, in Input) (model.Structure, finding.List, error) {
	var out model.Structure
	var found finding.List
	out.Weights = in.weights()
	out.Total, out.Centre = together(out.Weights)
	out.Lift = handling.Usual.Limit()
	if in.Core != nil && out.Total.X > 0 {
		found.Add(in.carried(&out)...)
	}
	if in.Stand != nil && in.Stand.Post.OD > 0 && out.Total.X > 0 {
		found.Add(in.standing(&out)...)
	}
	found.Add(in.lifted(&out)...)
	if in.Site != nil {
		found.Add(in.warm()...)
		found.Add(in.way()...)
	}
	return out, found, nil
}

// at is where findings about the whole stand.
func (in Input) at() finding.Place {
	switch {
	case in.Stand != nil:
		return in.Stand.At
	case in.Site != nil:
		return in.Site.At
	case in.Core != nil:
		return in.Core.At
	}
	return finding.Place{}
}
