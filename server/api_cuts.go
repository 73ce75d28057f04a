package server

import (
	"context"
	"strings"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

type cutsIn struct {
	OnBuild
	Body NewCuts
}

// acceptCuts writes cuts that were only computed, as they lie or moved, and gives them
// the ids that they keep.
func acceptCuts(ctx context.Context, d *desk, in cutsIn) (Edited, error) {
	var cuts []model.DeclaredCut
	for _, c := range in.Body.Cuts {
		cuts = append(cuts, model.DeclaredCut{Part: c.Part, Station: unit.Shop(hundredth(c.Station)), Kind: model.JointKind(c.Kind)})
	}
	return d.onBase(ctx, in.Body.Base, "edit", in.Body.Wait, func(revision int) (string, error) {
		ids, _, err := d.folder.AcceptCuts(revision, cuts...)
		return "accept " + string(finding.Names(ids...)), err
	})
}

// stopRun ends the run under way. What was shown before stands, as of its own version.
func stopRun(_ context.Context, d *desk, _ seenIn) (AsOf, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.run != nil {
		d.run.cancel()
		d.run, d.partial = nil, nil
		d.trouble = &Trouble{"stopped", "press Go on, or change anything"}
		d.tell(DerivedEvent{AsOf: d.asOf(d.shown), Trouble: d.trouble})
	}
	return d.asOf(d.shown), nil
}

// runAgain derives what is not derived yet: after a stop, or when a disk failed.
func runAgain(_ context.Context, d *desk, _ seenIn) (AsOf, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.run == nil && d.unread == nil && (d.shown == nil || d.shown.state != d.state) {
		d.derive()
		d.changed()
	}
	return d.asOf(d.shown), nil
}

// handleOfCut is a cut that is only computed: dragging it writes it.
func (h handleMaker) handleOfCut(c model.Cut) (Handle, bool) {
	out := Handle{
		ID: "handle-cut-" + strings.ReplaceAll(c.Part+"-"+c.ID, ".", "-"), Part: c.Part, Value: hundredth(float64(c.Station)),
		Says: h.u.Tenth(c.Station), Owner: "shop", Text: unit.Shop(hundredth(float64(c.Station))).Text, Provisional: true,
		Joint: string(c.Kind), At: Place{build.BuildFile, "cuts"},
	}
	h.along(&out, "cut "+c.ID+" of "+c.Part, c.Station)
	return out, out.Most > out.Least
}
