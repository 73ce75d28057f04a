package job_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// mustComeTogether replays an order on the solids themselves: at each joint along
// the axis the body that moves is set off by many distances along the way that the
// step names, and nowhere on that way may it share material with what stays. The
// kernel that judges is not the half plane that found the order.
func mustComeTogether(t *testing.T, r job.Result) {
	t.Helper()
	body := map[string]int{"": 0} // of a piece; the core is ""
	mesh := map[string]solid.Mesh{"": pipeOf(t, r.Design.Core, flatsOf(r, r.Division.Pieces[0]))}
	for i, c := range r.Carved {
		body[c.Piece.String()] = i + 1
		mesh[c.Piece.String()] = c.Solid
	}
	closed := 0
	for _, step := range r.Assembly.Steps {
		var ids []string
		for _, p := range step.Pieces {
			ids = append(ids, p.String())
		}
		switch {
		case step.Task.ID == model.FitCore:
			ids = append(ids, "")
		case step.Task.Kind != model.Join || len(ids) < 2:
			continue
		}
		if step.Side == model.FromFoot || step.Side == model.FromNose {
			mustSlide(t, step, mesh, body, ids)
		}
		closed++
		for _, id := range ids[1:] {
			into, from := body[ids[0]], body[id]
			for k := range body {
				if body[k] == from {
					body[k] = into
				}
			}
		}
	}
	if want := len(r.Division.Seams) + len(r.Division.Seats); closed < want {
		t.Errorf("%d joints are closed, want %d and more", closed, want)
	}
	for id, b := range body {
		if b != body[""] {
			t.Errorf("%q is not part of the whole", id)
		}
	}
}

// mustSlide looks along the way of one joint. Which of the two bodies moves does
// not matter: set off by so much one way is set off by as much the other.
func mustSlide(t *testing.T, step model.AssemblyStep, mesh map[string]solid.Mesh, body map[string]int, ids []string) {
	t.Helper()
	stays, moves := body[ids[0]], body[ids[1]]
	way := 1.0
	if (step.Side == model.FromFoot) != bySmaller(step, mesh, body, ids) {
		way = -1
	}
	for x, bx := range body {
		if bx != moves {
			continue
		}
		for y, by := range body {
			if by != stays {
				continue
			}
			for _, off := range []float64{0.5, 3, 9, 15, 40, 110, 260, 500, 900} {
				moved := mesh[x].Transform(solid.Translation(solid.Vec{0, 0, way * off}))
				if apart(moved.Bounds(), mesh[y].Bounds()) {
					continue
				}
				// What rubs on a lead-in or a flat is a hair; a wall in the way is not.
				if v := shared(t, moved, mesh[y]); v > rubs {
					t.Errorf("%s: %q off by %v shares %.0f mm³ with %q", step.Task.ID, x, way*off, v, y)
				}
			}
		}
	}
}

// rubs is what may be shared on the way, mm³: half a millimetre round a circle of
// 250 mm for a tenth of a millimetre.
const rubs = 40

// bySmaller reports whether the step speaks of its first piece's body as the one
// that moves: the name puts it first.
func bySmaller(step model.AssemblyStep, mesh map[string]solid.Mesh, body map[string]int, ids []string) bool {
	if strings.HasPrefix(step.Task.ID, "seat.") || step.Task.ID == model.FitCore {
		return false // the ring or the core moves, and stands second
	}
	size := func(b int) int {
		n := 0
		for _, k := range body {
			if k == b {
				n++
			}
		}
		return n
	}
	return size(body[ids[1]]) > size(body[ids[0]])
}

func apart(a, b solid.Bounds) bool {
	for k := range 3 {
		if a.Max[k] <= b.Min[k] || b.Max[k] <= a.Min[k] {
			return true
		}
	}
	return false
}

func TestRocketComesTogether(t *testing.T) {
	t.Parallel()
	mustComeTogether(t, theRocket(t))
}

// The order of the demo with its fins waits for nothing that comes later.
func TestDemoOrderKeepsItsWaits(t *testing.T) {
	t.Parallel()
	r := mustRun(t, demo(t))
	if len(r.Assembly.Steps) == 0 {
		t.Fatal("no order")
	}
	over := map[string]bool{}
	for _, s := range r.Assembly.Steps {
		for _, first := range s.Task.After {
			later := slices.ContainsFunc(r.Assembly.Steps, func(o model.AssemblyStep) bool { return o.Task.ID == first })
			if later && !over[first] {
				t.Errorf("%s waits for %s, which comes later", s.Task.ID, first)
			}
		}
		over[s.Task.ID] = true
	}
	planned := map[string]bool{}
	for _, task := range r.Calendar.Tasks {
		planned[task.ID] = true
	}
	for _, task := range r.Assembly.Tasks() {
		if !planned[task.ID] {
			t.Errorf("the calendar lacks %s", task.ID)
		}
	}
}

// Who logs that one joint took twice as long as was guessed gets the others planned
// longer, and what is logged is not planned again.
func TestPaceIsLearned(t *testing.T) {
	t.Parallel()
	in := foyer()
	bench := func(r job.Result, id string) (unit.Minutes, bool) {
		for _, task := range r.Calendar.Tasks {
			if task.ID == id {
				return task.Bench, true
			}
		}
		return 0, false
	}
	before, _ := bench(theRocket(t), "join.shoulder-nose")
	in.Events = []model.Event{{Kind: model.Done, Task: "join.tail-body", Minutes: 60}}
	r := mustRun(t, in)
	// One ratio of 2 against a prior as wide as one task's scatter: half the way.
	after, _ := bench(r, "join.shoulder-nose")
	if want := unit.Minutes(math.Round(float64(before) * math.Sqrt2)); before != 30 || after != want {
		t.Errorf("a joint was planned with %v min and is with %v, want %v", before, after, want)
	}
	if _, planned := bench(r, "join.tail-body"); planned {
		t.Error("what is done is planned again")
	}
}
