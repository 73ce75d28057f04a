package server_test

import (
	"slices"
	"testing"

	"scalewright/server"
)

// Cuts that are kept where they lie change nothing: not where a step of the profile
// lies at thousandths of a millimetre and the page knows it to the hundredth.
func TestKeptCutsLeadToTheSame(t *testing.T) {
	b := newBench(t)
	grooved := server.TypedOutline{Doubt: 0.1, Of: "reference"}
	for _, to := range [][2]float64{
		{0, 21}, {51.773959, 21}, {51.773959, 20}, {114.302894, 19.5}, {114.302894, 21}, {149.978606, 21}, {149.978606, 17}, {218.5, 10},
	} {
		grooved.Path = append(grooved.Path, server.OutlineStep{To: to})
	}
	stored := send[server.Stored](b, "PUT", "./outlines/grooved", grooved)
	send[server.Edited](b, "POST", "./edits", server.Edit{
		Base: version(b), Wait: 60_000,
		Changes: []server.Change{
			{Op: "put", At: at("reference.outline"), Text: stored.File, Free: true},
			{Op: "put", At: at("reference.length"), Text: "218.5 ± 0.2 ref"},
			{Op: "put", At: at("enlarge.ratio"), Text: "3"},
			{Op: "drop", At: at("core")},
			{Op: "drop", At: at("joints")},
			{Op: "put", At: at("parts.whole"), Text: "{from: 0 ref, to: 218.5 ref, wall: 2.4 mm}"},
			{Op: "drop", At: at("parts.base")},
			{Op: "drop", At: at("parts.shaft")},
			{Op: "drop", At: at("parts.knob")},
			{Op: "put", At: server.Place{File: "shop.yaml", Path: "printers.first.build"}, Text: "[220 mm, 220 mm, 240 mm]"},
		},
	})
	var keep []server.NewCut
	for _, h := range get[server.Handles](b, "./handles").Handles {
		if h.Provisional {
			keep = append(keep, server.NewCut{Part: h.Part, Station: h.Value, Kind: h.Joint})
		}
	}
	if !slices.ContainsFunc(keep, func(c server.NewCut) bool { return c.Station == 342.91 }) {
		t.Fatalf("no cut is computed in the step at 342.908682 mm, which this is about: %+v", keep)
	}
	before := get[server.VerdictSheet](b, "./verdict")
	pieces := get[server.PieceList](b, "./pieces").Pieces
	send[server.Edited](b, "POST", "./cuts", server.NewCuts{Base: version(b), Wait: 60_000, Cuts: keep})
	after := get[server.VerdictSheet](b, "./verdict")
	if after.Heading != before.Heading || len(after.Worst) != len(before.Worst) {
		t.Errorf("kept, %q with %+v became %q with %+v", before.Heading, before.Worst, after.Heading, after.Worst)
	}
	for i, p := range get[server.PieceList](b, "./pieces").Pieces {
		if i >= len(pieces) || p.Span != pieces[i].Span || p.Mass != pieces[i].Mass {
			t.Errorf("%s is now %+v", pieces[min(i, len(pieces)-1)].Name, p)
		}
	}
}
