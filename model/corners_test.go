package model_test

import (
	"testing"

	"scalewright/model"
	"scalewright/unit"
)

// Ends of parts lie on the corner they were written near; two ends near one
// corner do not fall together, and an end of the shop stays where it is.
func TestTwoEndsAtOneCorner(t *testing.T) {
	part := func(id string, from, to unit.Dim) model.DeclaredPart {
		return model.DeclaredPart{ID: id, From: from, To: to, Wall: unit.Shop(2)}
	}
	d := model.Declared{Parts: []model.DeclaredPart{
		part("a", unit.Ref(0.3), unit.Ref(13.8)),
		part("b", unit.Ref(13.8), unit.Ref(14.6)),
		part("c", unit.Ref(14.6), unit.Shop(88)),
		part("d", unit.Shop(88), unit.Ref(31.2)),
	}}
	got := model.Resolve(d, model.Trace{Outline: model.Lines(0, 9, 14, 9, 14, 12, 30, 12)}, nil, 6)
	want := []model.Span{{From: 0, To: 84}, {From: 84, To: 6 * 14.6}, {From: 6 * 14.6, To: 88}, {From: 88, To: 6 * 31.2}}
	for i, p := range got.Parts {
		if p.Span != want[i] {
			t.Errorf("part %s spans %v, want %v", p.ID, p.Span, want[i])
		}
	}
}
