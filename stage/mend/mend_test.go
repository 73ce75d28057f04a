package mend_test

import (
	"context"
	"fmt"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/mend"
	"scalewright/unit"
)

func id(part string) model.PieceID {
	return model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose}
}

// made is two pieces, both released as they still are.
func made() mend.Input {
	in := mend.Input{
		Kept: []model.Kept{
			{Label: "A1", Piece: id("a").String(), Revision: 3, Reach: model.Span{From: 0, To: 110}, Volume: 50_000},
			{Label: "B1", Piece: id("b").String(), Revision: 3, Reach: model.Span{From: 100, To: 200}, Volume: 60_000},
		},
		Parts: []model.Part{{ID: "a"}, {ID: "b"}},
		Fits:  []model.Fit{{Seam: "a-b", Station: 100, Male: id("a").String(), Female: id("b").String(), Clearance: unit.Estimate(0.3, 0.1)}},
	}
	for i, part := range []string{"a", "b"} {
		in.Division.Pieces = append(in.Division.Pieces, model.Piece{ID: id(part), Name: part})
		in.Carved = append(in.Carved, model.Carved{Piece: id(part), Reach: in.Kept[i].Reach, Volume: in.Kept[i].Volume})
	}
	return in
}

func run(t testing.TB, in mend.Input) ([]string, finding.List) {
	t.Helper()
	stays, found, err := mend.Run(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return stays, found
}

func ExampleRun() {
	in := made()
	in.Carved[0].Volume = 58_000
	stays, found := run(&testing.B{}, in)
	fmt.Println(stays, finding.Writer{}.Message(found[0]))
	// Output: [B1] A1, a, was made with 50 cm³ at revision 3; now it would have 58 cm³
}

func TestWhatIsAsItWasSaysNothing(t *testing.T) {
	if stays, found := run(t, made()); len(found) > 0 || len(stays) != 2 {
		t.Errorf("stays %v, found %v", stays, found)
	}
	if stays, found := run(t, mend.Input{}); len(stays)+len(found) > 0 {
		t.Errorf("nothing made: %v, %v", stays, found)
	}
}

func TestFindings(t *testing.T) {
	for code, change := range map[finding.Code]func(*mend.Input){
		"made-damaged":      func(in *mend.Input) { in.Kept[0].Damaged = []string{"made/A1/piece.3mf"} },
		"made-gone":         func(in *mend.Input) { in.Kept[0].Piece = "c.foot.nose" },
		"made-other-length": func(in *mend.Input) { in.Carved[1].Reach.To = 205 },
		"made-other-features": func(in *mend.Input) {
			in.Kept[0].Features = []string{"seat of a core ring from 10.0 to 16.0 mm"}
		},
		"made-other-shape": func(in *mend.Input) { in.Carved[1].Volume = 61_000 },
		"made-binds":       func(in *mend.Input) { in.Fits[0].Bind, in.Fits[0].Clearance.X = 0.8, -0.1 },
		"made-rattles":     func(in *mend.Input) { in.Fits[0].Loose, in.Fits[0].Clearance.X = 0.9, 1.6 },
	} {
		in := made()
		change(&in)
		_, found := run(t, in)
		if len(found) != 1 || found[0].Code != code || found[0].Severity != finding.Caution {
			t.Errorf("%s: found %v", code, found)
		}
	}
	// A joint that only one side of is made can still follow: not mend's to say.
	in := made()
	in.Kept, in.Fits[0].Bind = in.Kept[:1], 0.9
	if _, found := run(t, in); len(found) > 0 {
		t.Errorf("one side is open, and still %v", found)
	}
}
