package job_test

import (
	"context"
	"slices"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/assembly"
	"scalewright/unit"
)

// lit is the rocket with things in it: lights in the bell, which comes off, a
// speaker in the nose, and a board behind the second core ring, in the room round
// the core that the rings close.
func lit(r job.Result, boardAt unit.Length, service model.Service) assembly.Input {
	in := assembly.Input{Division: r.Division, Design: r.Design}
	for _, c := range r.Carved {
		in.Shapes = append(in.Shapes, assembly.ShapeOf(c))
	}
	put := func(id string, x, station unit.Length, service model.Service) {
		for _, p := range r.Division.Pieces {
			if p.ID.Kind == model.Shell && p.Span.From <= station && station < p.Span.To {
				in.Design.Components = append(in.Design.Components, model.Component{ID: id, Part: p.ID.Part, Service: service})
				in.Places.Bays = append(in.Places.Bays, model.Bay{
					Component: id, Part: p.ID.Part, Piece: p.ID, Centre: [3]unit.Length{x, 0, station}, Size: [3]unit.Length{45, 18, 10},
				})
			}
		}
	}
	put("lights", 60, 60, model.Serviced)
	put("board", 85, boardAt, service)
	put("speaker", 0, 1150, model.Sealed)
	for _, w := range [][2]int{{0, 1}, {1, 2}} {
		a, b := in.Places.Bays[w[0]], in.Places.Bays[w[1]]
		in.Places.Ways = append(in.Places.Ways, model.Way{
			Wire: a.Component + "-" + b.Component, From: a.Component, To: b.Component,
			Path: [][3]unit.Length{a.Centre, b.Centre}, Length: 1500,
		})
	}
	return in
}

// On the real shells: what the bell uncovers is reached, what two core rings close
// in is not, and its cure is a joint beside it.
func TestReachInTheRocket(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	a, found, err := assembly.Run(context.Background(), lit(r, 500, model.Sealed))
	if err != nil || len(found) != 0 {
		t.Fatal(found, err)
	}
	step := func(id string) int {
		k := slices.IndexFunc(a.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == id })
		if k < 0 {
			t.Fatalf("no step %s", id)
		}
		return k
	}
	shut := func(component string) string {
		for _, s := range a.Steps {
			if slices.Contains(s.Shuts, component) {
				return s.Task.ID
			}
		}
		return ""
	}
	// The board lies over the ring on the spigot at 440 and under the next, which
	// comes with body 3 of 3; the speaker closes with the nose.
	if got := shut("board"); got != "join.body.+2" {
		t.Errorf("the board is shut in by %q", got)
	}
	if got := shut("speaker"); got != "join.shoulder-nose" {
		t.Errorf("the speaker is shut in by %q", got)
	}
	if got := shut("lights"); got != "" {
		t.Errorf("the lights are shut in by %q", got)
	}
	if step("put.board") > step("join.body.+2") || step("solder.board-speaker") > step("join.shoulder-nose") || step("put.lights") < step("join.shoulder-nose") {
		t.Errorf("steps %v", a.Tasks())
	}
	// To be serviced it must not be closed in by two rings and the core between: were
	// tail and body to come apart, the core would stay in the tail and a hand get up
	// through the rings, 110 mm wide.
	in := lit(r, 500, model.Serviced)
	_, found, err = assembly.Run(context.Background(), in)
	if err != nil || len(found) != 1 || found[0].Code != "bonded-shut-by" || found[0].Args["joint"] != finding.Name("tail-body") {
		t.Fatalf("a board to be serviced behind two rings: %v, %v", found, err)
	}
	in.Division.Seams = slices.Clone(in.Division.Seams)
	for i := range in.Division.Seams {
		if in.Division.Seams[i].ID == "tail-body" {
			in.Division.Seams[i].Removable = true
		}
	}
	if _, found, err = assembly.Run(context.Background(), in); err != nil || len(found) != 0 {
		t.Errorf("with the cure taken: %v, %v", found, err)
	}
}
