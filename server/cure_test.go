package server_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"scalewright/build"
	"scalewright/server"
)

// A remedy that is pressed is one edit, and the finding is gone.
func TestACureIsPressed(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "builds", "thin")
	if err := build.Copy(dir, os.DirFS("../examples/ten-mistakes/08-thin-wall")); err != nil {
		t.Fatal(err)
	}
	b := serve(t, options(t, home), dir)
	found := get[server.Findings](b, "./findings").Findings
	k := slices.IndexFunc(found, func(f server.Finding) bool { return f.Code == "wall-thin" })
	if k < 0 || len(found[k].Cures) != 1 || found[k].Lane != "walls" || found[k].Path != "parts.cap.wall" || found[k].Line == 0 {
		t.Fatalf("findings = %+v", found)
	}
	cure := found[k].Cures[0]
	trial := send[server.Trial](b, "POST", "./trials", server.Edit{Base: version(b), Changes: cure.Changes})
	if !strings.Contains(trial.Consequences.Says, "clear") {
		t.Errorf("the cure would %q", trial.Consequences.Says)
	}
	done := send[server.Edited](b, "POST", "./edits", server.Edit{Base: version(b), Name: cure.Says, Changes: cure.Changes, Wait: 60_000})
	if done.Consequences == nil || done.Consequences.After.Blockers != 0 || done.Name != cure.Says {
		t.Errorf("cured: %+v", done)
	}
}

// Every size that is weighed can be taken, and is then the declared one.
func TestASizeIsTaken(t *testing.T) {
	b := newBench(t)
	all := get[server.Sizes](b, "./sizes").Candidates
	k := slices.IndexFunc(all, func(c server.Candidate) bool { return !c.Now && c.Blocked == "" })
	if k < 0 {
		t.Fatalf("nothing to choose from: %+v", all)
	}
	done := send[server.Edited](b, "POST", "./edits", server.Edit{Base: version(b), Wait: 60_000, Changes: []server.Change{all[k].Edit}})
	if c := done.Consequences; c == nil || c.After.Prints != all[k].Totals.Prints || c.After.Mass < 0.99*all[k].Totals.Mass || c.After.Mass > 1.01*all[k].Totals.Mass {
		t.Errorf("taken %+v, promised %+v", done, all[k].Totals)
	}
}

// The demo's lanes as the page gets them hold what the words beside them say.
func TestLanes(t *testing.T) {
	home := t.TempDir()
	dir := filepath.Join(home, "builds", "acorn")
	if err := build.Copy(dir, options(t, home).Demo); err != nil {
		t.Fatal(err)
	}
	b := serve(t, options(t, home), dir)
	sheet := get[server.LaneSheet](b, "./lanes?open=pieces,walls&width_mm=320")
	if len(sheet.Lanes) != 9 || sheet.Scale <= 0 || sheet.Span.To <= sheet.Span.From {
		t.Fatalf("sheet: %d lanes, scale %v, %+v", len(sheet.Lanes), sheet.Scale, sheet.Span)
	}
	for _, l := range sheet.Lanes {
		open := l.ID == "elevation" || l.ID == "pieces" || l.ID == "walls"
		if l.Folded == open || len(l.Scene.Items) == 0 || l.Scene.Width != 320 {
			t.Errorf("%s: folded %v, %d items, %v wide", l.ID, l.Folded, len(l.Scene.Items), l.Scene.Width)
		}
		ids := map[string]bool{}
		walk(l.Scene.Items, func(item server.SceneItem) {
			if item.ID != "" && ids[item.ID] {
				t.Errorf("%s: id %s is there twice", l.ID, item.ID)
			}
			ids[item.ID] = true
			switch item.Kind {
			case "path":
				if item.D == "" || item.Fill == "" && item.Stroke == "" {
					t.Errorf("%s: a path without lines or paint: %+v", l.ID, item)
				}
			case "text":
				if len(item.Runs) == 0 || item.Size <= 0 || item.Anchor == "" {
					t.Errorf("%s: letters without a size: %+v", l.ID, item)
				}
			case "group", "image", "link":
			default:
				t.Errorf("%s: an item of kind %q", l.ID, item.Kind)
			}
		})
	}
	part := get[server.LaneSheet](b, "./lanes?lanes=elevation&from_mm=10&to_mm=60&width_mm=320")
	if len(part.Lanes) != 1 || part.Span != (server.Stretch{From: 10, To: 60}) || part.Scale <= sheet.Scale {
		t.Errorf("a stretch: %d lanes, %+v, scale %v", len(part.Lanes), part.Span, part.Scale)
	}
	reads := get[server.LaneReadings](b, "./readings?step_mm=2")
	for _, l := range reads.Lanes {
		for i := 1; i < len(l.Readings); i++ {
			if l.Readings[i].From <= l.Readings[i-1].From {
				t.Errorf("%s: reading %d is at %v after %v", l.ID, i, l.Readings[i].From, l.Readings[i-1].From)
			}
		}
	}
	for _, h := range get[server.Handles](b, "./handles").Handles {
		if h.Most <= h.Least || h.Value < h.Least-0.01 || h.Value > h.Most+0.01 || h.At.Path == "" || h.Text == "" {
			t.Errorf("handle %+v", h)
		}
	}
}

func walk(items []server.SceneItem, see func(server.SceneItem)) {
	for _, i := range items {
		see(i)
		walk(i.Items, see)
	}
}
