package job_test

import (
	"slices"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stock"
)

// Every kind of the table that joins pieces in a row does so on the rocket: nothing
// overlaps, and what goes in belongs to the piece that the table says.
func TestEveryKindOfSeamAssembles(t *testing.T) {
	t.Parallel()
	for _, kind := range stock.Joints() {
		if !kind.Can(stock.AtSeam) {
			continue
		}
		in := coarse()
		in.Declared.Joints = append(in.Declared.Joints, model.DeclaredJoint{ID: "tail-body", Between: [2]string{"tail", "body"}, Kind: model.JointKind(kind.ID)})
		r := mustRun(t, in)
		mustAssemble(t, r)
		for _, s := range r.Division.Seams {
			if s.Below.Part != "tail" || s.Above.Part != "body" {
				continue
			}
			fits := r.Fits.Of(s.ID)
			male := map[stock.Male]string{
				stock.MaleBelow: s.Below.String(), stock.MaleAbove: s.Above.String(),
				stock.MaleOwn: model.PieceID{Kind: model.CollarRing, Part: "body", From: model.Foot}.String(),
			}[kind.Male]
			if kind.Male == stock.NoMale && len(fits) > 0 || kind.Male != stock.NoMale && (len(fits) == 0 || fits[0].Male != male) {
				t.Errorf("%s: fits %v, and what goes in is %s", kind.ID, fits, male)
			}
		}
	}
}

func TestKindsThatCannotBeThere(t *testing.T) {
	t.Parallel()
	spigots := finned()
	spigots.Declared.Joints = append(spigots.Declared.Joints,
		model.DeclaredJoint{ID: "bell-tail", Between: [2]string{"bell", "tail"}, Kind: "hanging spigot"},
		model.DeclaredJoint{ID: "tail-body", Between: [2]string{"tail", "body"}, Kind: model.Spigot})
	tongue := finned()
	tongue.Declared.Joints = append(tongue.Declared.Joints, model.DeclaredJoint{ID: "tail-body", Between: [2]string{"tail", "body"}, Kind: model.Tongue})
	hung := finned()
	hung.Declared.Joints[len(hung.Declared.Joints)-1].Kind = model.Collar
	for code, r := range map[finding.Code]finding.List{
		"spigot-at-both-ends": mustBlock(t, spigots), "kind-not-here": slices.Concat(mustBlock(t, tongue), mustBlock(t, hung)),
	} {
		n := 0
		for _, f := range r {
			if f.Code == code {
				n++
			}
		}
		if want := map[finding.Code]int{"spigot-at-both-ends": 1, "kind-not-here": 3}[code]; n != want {
			t.Errorf("%s is said %d times, want %d: %v", code, n, want, r)
		}
	}
}

func mustBlock(t *testing.T, in job.Input) finding.List {
	t.Helper()
	r, err := job.Run(t.Context(), in)
	if err != nil || !r.Blocked() {
		t.Fatalf("Run: %v, and no blocker: %v", err, r.Findings)
	}
	return r.Findings
}
