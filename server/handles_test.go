package server_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"scalewright/build"
	"scalewright/lane"
	"scalewright/server"
	"scalewright/unit"
)

// The demo can be edited on every lane, and every handle's value can be put as it stands
// without another meaning.
func TestEveryLaneCanBeEdited(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "builds", "foyer-rocket")
	if err := build.Copy(dir, os.DirFS("../examples/foyer-rocket")); err != nil {
		t.Fatal(err)
	}
	b := serve(t, options(t, home), dir)
	handles := get[server.Handles](b, "./handles").Handles
	for _, l := range lane.All() {
		if !slices.ContainsFunc(handles, func(h server.Handle) bool { return slices.Contains(h.Lanes, l.ID) }) {
			t.Errorf("nothing can be edited on %s", l.Name)
		}
	}
	ids := map[string]bool{}
	for _, h := range handles {
		if ids[h.ID] {
			t.Errorf("%s twice", h.ID)
		}
		ids[h.ID] = true
		if h.Kind == "choice" && h.Text != "" && !slices.Contains(h.Options, h.Text) {
			t.Errorf("%s is %s, not one of %v", h.Name, h.Text, h.Options)
		}
		if h.Kind == "station" && (h.Value < h.Least || h.Value > h.Most) {
			t.Errorf("%s lies at %v, not from %v to %v", h.Name, h.Value, h.Least, h.Most)
		}
	}

	// The controller's place was only found; dragged, it is written with its clocking.
	k := slices.IndexFunc(handles, func(h server.Handle) bool { return h.ID == "handle-components-brain-at" })
	if k < 0 || len(handles[k].With) != 1 {
		t.Fatalf("brain = %+v", handles)
	}
	to := handles[k].Value - 8
	changes := append(slices.Clone(handles[k].With), server.Change{Op: "put", At: handles[k].At, Text: unit.Shop(to).Text})
	send[server.Edited](b, "POST", "./edits", server.Edit{Base: version(b), Wait: 60_000, Changes: changes})
	if got := declared(b, "components.brain.at"); got != unit.Shop(to).Text || declared(b, "components.brain.clocking_deg") == "" {
		t.Errorf("brain lies at %q", got)
	}
	// What the program chose at a joint is written with the parts it lies between.
	handles = get[server.Handles](b, "./handles").Handles
	k = slices.IndexFunc(handles, func(h server.Handle) bool { return h.ID == "handle-joints-body-shoulder-kind" })
	if k < 0 || handles[k].Text != "" || !strings.Contains(handles[k].Says, "program") {
		t.Fatalf("body-shoulder = %+v", handles[max(k, 0)])
	}
	changes = append(slices.Clone(handles[k].With), server.Change{Op: "put", At: handles[k].At, Text: "butt"})
	send[server.Edited](b, "POST", "./edits", server.Edit{Base: version(b), Wait: 60_000, Changes: changes})
	if got := declared(b, "joints.body-shoulder.kind"); got != "butt" {
		t.Errorf("the joint is %q", got)
	}
}

// A build without a body has handles for what there is.
func TestHandlesOfExamples(t *testing.T) {
	all, err := os.ReadDir("../examples")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		if _, err := os.Stat("../examples/" + e.Name() + "/build.yaml"); err != nil || e.Name() == "foyer-rocket" {
			continue
		}
		// Of those that a photograph is measured for, one: handles hang on what was measured,
		// not on how hard that was (cmd/scalewright measures each of them).
		if _, err := os.Stat("../examples/" + e.Name() + "/photos"); err == nil && e.Name() != "plumb-bob" {
			continue
		}
		t.Run(e.Name(), func(t *testing.T) {
			home := t.TempDir()
			dir := filepath.Join(home, "builds", e.Name())
			if err := build.Copy(dir, os.DirFS("../examples/"+e.Name())); err != nil {
				t.Fatal(err)
			}
			get[server.Handles](serve(t, options(t, home), dir), "./handles")
		})
	}
}
