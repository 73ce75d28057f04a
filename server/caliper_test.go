package server_test

import (
	"strings"
	"testing"

	"scalewright/server"
)

// A reading typed on the page, one with two digits swapped, and a proposal taken.
func TestCaliper(t *testing.T) {
	b := photographed(t)
	sheet := get[server.CaliperSheet](b, "./reference/caliper")
	if len(sheet.Taken) != 0 || !sheet.First || sheet.Next == "" || len(sheet.Perhaps) == 0 || sheet.Trued != "" {
		t.Fatalf("before any reading: %+v", sheet)
	}
	b.keep("a reading", []server.Change{{Op: "put", At: sheet.Add, Text: "[{diameter: 42.0 ± 0.03 ref, at: 100 ref}]"}})
	sheet = get[server.CaliperSheet](b, "./reference/caliper")
	b.keep("another", []server.Change{{Op: "add", At: sheet.Add, Text: "{diameter: 43 ref, at: 157 ref}"}})
	sheet = get[server.CaliperSheet](b, "./reference/caliper")
	if len(sheet.Taken) != 2 || !sheet.Taken[0].Used || sheet.Taken[1].Used || !strings.Contains(sheet.Taken[1].Says, "read 43.00, all else says 3") {
		t.Fatalf("34 typed as 43: %+v", sheet.Taken)
	}
	var take *server.Change
	for _, p := range sheet.Perhaps {
		if strings.Contains(p.Says, "looks like 42 mm") {
			take = p.Edit
		}
	}
	if take == nil {
		t.Fatalf("42 is not proposed: %+v", sheet.Perhaps)
	}
	b.keep("a round diameter", []server.Change{*take})
	after := get[server.CaliperSheet](b, "./reference/caliper")
	reference := get[server.ReferenceSheet](b, "./reference")
	held := false
	for _, s := range reference.Segments {
		held = held || s.To[0]-s.From[0] > 20 && s.From[1] == 21 && s.To[1] == 21
	}
	if after.Trued == "" || !held {
		t.Errorf("not held at 42: %q, %+v", after.Trued, reference.Segments)
	}
}
