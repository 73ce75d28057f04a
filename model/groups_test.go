package model_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/model"
)

// A bell that comes off, a body in two pieces with a fin, a ring in the body.
func TestGroups(t *testing.T) {
	shell := func(part, from, to string) model.PieceID {
		return model.PieceID{Kind: model.Shell, Part: part, From: from, To: to}
	}
	bell, low, high, fin := shell("bell", "foot", "nose"), shell("body", "foot", "c1"), shell("body", "c1", "nose"), model.PieceID{Kind: model.Slice, Part: "fin", From: "foot"}
	collar := model.PieceID{Kind: model.CollarRing, Part: "body", From: "foot"}
	ring := model.PieceID{Kind: model.CoreRing, Part: "body", From: "foot"}
	panel := model.PieceID{Kind: model.Panel, Part: "body", From: "hatch"}
	d := model.Division{Seams: []model.Seam{
		{ID: "bell-body", Below: bell, Above: low, Kind: model.Collar, Removable: true}, {ID: "body.c1", Below: low, Above: high},
	}, Seats: []model.Seat{{Ring: ring, Host: low}}}
	for _, id := range []model.PieceID{bell, low, high, fin, collar, ring, panel} {
		d.Pieces = append(d.Pieces, model.Piece{ID: id})
	}
	mounts := []model.Mount{{ID: "fin-body", Host: "body", Guest: "fin"}}
	want := []model.Group{
		{ID: "bell", Pieces: []model.PieceID{bell}},
		{ID: "body", Pieces: []model.PieceID{low, high, fin, collar, ring}, Seams: []string{"body.c1", "fin-body"}},
		{ID: "body.hatch.panel", Pieces: []model.PieceID{panel}},
	}
	if diff := cmp.Diff(want, d.Groups(mounts)); diff != "" {
		t.Errorf("groups (-want +got):\n%s", diff)
	}
	mounts[0].Removable = true
	if n := len(d.Groups(mounts)); n != 4 {
		t.Errorf("%d groups with a fin that comes off, want 4", n)
	}
	if got := (model.Division{}).Groups(nil); got != nil {
		t.Errorf("nothing has groups %v", got)
	}
}
