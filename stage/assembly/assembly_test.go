package assembly_test

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

func codes(found finding.List) []string {
	var out []string
	for _, f := range found {
		out = append(out, string(f.Code))
	}
	return out
}

// Each mistake its own finding, and the cure that is named is one: made removable,
// the joint leaves nothing to find.
func TestFindings(t *testing.T) {
	// The classic: lights behind a diffuser that is glued in front of them.
	diffuser := func() (s stack) {
		s.shell("bell", 0, 80, 50)
		s.shell("tail", 80, 160, 50, model.Nose)
		s.plug("diffuser", "bell", 10, 48)
		s.lamp("lights", "bell", 40, model.Serviced)
		return s
	}
	// Two lamps, each behind its own plug, and a wire too short to hang.
	wired := func(slack float64) (s stack) {
		s.shell("base", 0, 100, 50, model.Foot)
		s.shell("nose", 100, 200, 50, model.Nose)
		s.lamp("lamp", "nose", 150, model.Sealed)
		s.lamp("board", "base", 50, model.Sealed)
		s.wire("w", "board", "lamp", slack)
		return s
	}
	ball := func() (s stack) {
		s.shell("ball", 0, 100, 50, model.Foot, model.Nose)
		s.lamp("lamp", "ball", 50, model.Sealed)
		return s
	}
	deep := func() (s stack) {
		s.shell("a", 0, 100, 50, model.Foot, model.Nose)
		s.shell("b", 100, 800, 50)
		s.shell("c", 800, 1500, 50)
		s.shell("d", 1500, 1600, 50)
		s.lamp("lamp", "b", 750, model.Serviced)
		return s
	}
	caged := func() (s stack) {
		s.shell("a", 0, 100, 50, model.Foot, model.Nose)
		s.core(10, 90)
		return s
	}
	panelled := func() stack {
		s := caged()
		host := s.in.Division.Pieces[0].ID.Part
		s.piece(model.PieceID{Kind: model.Panel, Part: host, From: "hatch"}, [][]model.Point{box(40, 60, 47, 50)}, 40, 60)
		s.in.Design.Parts = s.in.Design.Parts[:len(s.in.Design.Parts)-1]
		return s
	}
	// A rod with a head at each end, wider than the tube between.
	dumbbell := func() (s stack) {
		s.shell("low", 0, 20, 50)
		s.shell("tube", 20, 80, 50)
		s.in.Shapes[1].Loops = [][]model.Point{box(20, 80, 20, 50)}
		s.in.Shapes[0].Loops = [][]model.Point{box(0, 20, 0, 48), box(20, 90, 0, 10), box(84, 90, 0, 30)}
		return s
	}
	bridged := func() (s stack) {
		s.shell("bell", 0, 80, 50)
		s.shell("tail", 80, 160, 50)
		s.removable("bell-tail")
		fin := model.PieceID{Kind: model.Slice, Part: "fin", From: model.Foot, To: model.Nose}
		s.piece(fin, nil, 40, 120)
		s.in.Design.Parts[2].Own, s.in.Design.Parts[2].Form = true, model.Flat
		s.in.Design.Mounts = []model.Mount{{ID: "fin-bell", Host: "bell", Guest: "fin"}, {ID: "fin-tail", Host: "tail", Guest: "fin"}}
		return s
	}
	for _, c := range []struct {
		name, code string
		s          stack
		joint      string // that its cure names
	}{
		{"lights behind a glued diffuser", "bonded-shut-by", diffuser(), "bell-diffuser"},
		{"a wire too short to hang", "wire-shut-in-by", wired(20), "base-nose"},
		{"a lamp in a ball", "no-way-into-piece", ball(), ""},
		{"a core in a closed shell", "shut-at-both-ends", caged(), ""},
		{"a head at each end", "shut-at-both-ends", dumbbell(), ""},
		{"a fin over a joint that comes apart", "joint-bonded-shut", bridged(), ""},
		{"behind two plugs", "bonded-shut", twice(), ""},
		{"out of reach, one joint near", "bonded-shut-by", deep(), "b-c"},
		{"the same, and a panel in its wall that comes from the side", "shut-at-both-ends", panelled(), ""},
	} {
		a, found := run(t, c.s)
		if len(found) != 1 || string(found[0].Code) != c.code {
			t.Errorf("%s: found %v, want %s; steps %d", c.name, codes(found), c.code, len(a.Steps))
			continue
		}
		if len(a.Steps) != 0 {
			t.Errorf("%s: blocked, and still an order of %d steps", c.name, len(a.Steps))
		}
		if c.joint == "" {
			continue
		}
		if got := found[0].Args["joint"]; got != finding.Name(c.joint) {
			t.Errorf("%s: the cure is %v, want %s", c.name, got, c.joint)
		}
		c.s.removable(c.joint)
		if _, found := run(t, c.s); len(found) != 0 {
			t.Errorf("%s: with the cure taken there is still %v", c.name, codes(found))
		}
	}
	if _, found := run(t, wired(200)); len(found) != 0 {
		t.Errorf("a wire long enough to hang: %v", codes(found))
	}
}

// twice is a lamp behind two plugs.
func twice() (s stack) {
	s.shell("long", 0, 300, 50, model.Nose)
	s.lamp("lamp", "long", 150, model.Serviced)
	s.plug("stop", "long", 50, 48)
	s.plug("bung", "long", 20, 48)
	return s
}

// A panel's opening leads to what would be shut for good.
func TestOpeningLeadsIn(t *testing.T) {
	s := twice()
	s.in.Design.Openings = []model.Opening{{ID: "hatch", Part: "long", Station: 150, Wide: 60, High: 60, Panel: true}}
	s.in.Places.Bays[0].Reached = []string{"hatch"}
	a, found := run(t, s)
	if len(found) != 0 {
		t.Fatalf("found %v", codes(found))
	}
	last := a.Steps[len(a.Steps)-2:]
	if last[0].Task.ID != "fit.hatch" || last[1].Task.ID != model.TryTask {
		t.Errorf("the last steps are %s and %s", last[0].Task.ID, last[1].Task.ID)
	}
	if !slices.Contains(last[0].Task.After, "put.lamp") {
		t.Errorf("the panel does not wait for the lamp: %v", last[0].Task.After)
	}
	k := slices.IndexFunc(a.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == "put.lamp" })
	if !slices.Contains(a.Steps[k].Task.After, "finish.long") {
		t.Errorf("the lamp, reached at any time, does not wait for the paint: %v", a.Steps[k].Task.After)
	}
}

func TestLimit(t *testing.T) {
	s := stack{}
	s.shell("base", 0, 100, 50, model.Foot)
	s.shell("nose", 100, 200, 50, model.Nose)
	s.lamp("lamp", "nose", 150, model.Sealed)
	s.lamp("board", "base", 50, model.Sealed)
	s.wire("w", "board", "lamp", 20)
	s.in.Limit = 1
	_, found := run(t, s)
	if len(found) != 1 || found[0].Code != "order-not-settled" {
		t.Errorf("found %v", codes(found))
	}
}

// Guests wait for what they sit on, not for each other.
func TestGuestsSetSideBySide(t *testing.T) {
	var s stack
	s.shell("low", 0, 100, 50)
	s.shell("high", 100, 200, 50)
	s.shell("top", 200, 300, 50)
	for _, fin := range []string{"fin-1", "fin-2"} {
		s.piece(model.PieceID{Kind: model.Slice, Part: fin, From: model.Foot, To: model.Nose}, nil, 40, 160)
		p := &s.in.Design.Parts[len(s.in.Design.Parts)-1]
		p.Own, p.Form = true, model.Flat
		s.in.Design.Mounts = append(s.in.Design.Mounts,
			model.Mount{ID: fin + "-low", Host: "low", Guest: fin}, model.Mount{ID: fin + "-high", Host: "high", Guest: fin})
	}
	a, found := run(t, s)
	if len(found) != 0 {
		t.Fatal(codes(found))
	}
	for _, step := range a.Steps {
		if step.Side != model.FromSide {
			continue
		}
		joins := slices.DeleteFunc(slices.Clone(step.Task.After), func(id string) bool { return len(id) < 5 || id[:5] != "join." })
		if !slices.Equal(joins, []string{"join.low-high"}) {
			t.Errorf("%s waits for %v", step.Task.ID, joins)
		}
	}
	want := []model.Group{{ID: "low", Pieces: []model.PieceID{}, Seams: []string{"low-high", "high-top", "fin-1-low", "fin-1-high", "fin-2-low", "fin-2-high"}}}
	for _, p := range s.in.Division.Pieces {
		want[0].Pieces = append(want[0].Pieces, p.ID)
	}
	if diff := cmp.Diff(want, a.Groups); diff != "" {
		t.Errorf("groups (-want +got):\n%s", diff)
	}
}

// A board's own pieces wait for one another and for nothing of the body; those
// that the core runs through and that nothing else holds are slid onto it.
func TestOwnLinesAreJoinedByThemselves(t *testing.T) {
	var s stack
	s.shell("low", 0, 100, 50)
	s.shell("high", 100, 200, 50)
	s.core(20, 180)
	for i := range 3 {
		from, to := fmt.Sprint("+", i), fmt.Sprint("+", i+1)
		id := model.PieceID{Kind: model.Slice, Part: "board", From: from, To: to}
		s.piece(id, nil, 200, 204)
		s.in.Division.Pieces[2+i].Own = true
		s.in.Design.Parts[2+i].Own, s.in.Design.Parts[2+i].Form = true, model.Flat
		if i > 0 {
			s.in.Division.Seams = append(s.in.Division.Seams, model.Seam{ID: "board." + from, Above: id, Below: s.in.Division.Pieces[1+i].ID})
		}
	}
	after := func(a model.Assembly, id string) []string {
		k := slices.IndexFunc(a.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == id })
		if k < 0 {
			t.Fatalf("no step %s in %v", id, a.Tasks())
		}
		return a.Steps[k].Task.After
	}
	a, found := run(t, s)
	if len(found) != 0 {
		t.Fatal(codes(found))
	}
	for _, id := range after(a, "join.board.+2") {
		if !strings.Contains(id, "board") {
			t.Errorf("the board waits for %s", id)
		}
	}
	if !slices.Contains(after(a, "join.board.+2"), "join.board.+1") {
		t.Errorf("its second seam waits for %v", after(a, "join.board.+2"))
	}
	s.in.Division.Pieces[2].OnCore = true
	a, found = run(t, s)
	if slide := after(a, "slide.board.+0.slice"); len(found) != 0 || !slices.Contains(slide, "join.low-high") || !slices.Contains(after(a, "join.low-high"), model.FitCore) {
		t.Errorf("%v, slid on after %v", codes(found), slide)
	}
}

func TestStandGoesIntoTheCoreLast(t *testing.T) {
	var s stack
	s.shell("low", 0, 100, 50)
	s.shell("high", 100, 200, 50, model.Nose)
	s.core(20, 180)
	s.in.Design.Stand = &model.Stand{Engage: 60, Below: 100}
	s.in.Design.Stand.Post.OD = 15
	a, found := run(t, s)
	if len(found) != 0 || a.Steps[len(a.Steps)-1].Task.ID != model.RaiseTask {
		t.Fatalf("%v, %v", codes(found), a.Tasks())
	}
	s.plug("floor", "low", 2, 48)
	if _, found := run(t, s); len(found) != 1 || found[0].Code != "shut-at-both-ends" {
		t.Errorf("the post goes through a floor: %v", codes(found))
	}
}

func TestNothingAtAll(t *testing.T) {
	a, found := run(t, stack{})
	if len(a.Steps) != 0 || len(found) != 0 {
		t.Errorf("%v, %v", a, codes(found))
	}
}

func TestSameAtAnyNumberOfCores(t *testing.T) {
	var s stack
	for i, n := range []string{"a", "b", "c", "d", "e"} {
		s.shell(n, float64(100*i), float64(100*i+100), 50)
		s.lamp(n+"-lamp", n, float64(100*i+50), model.Sealed)
	}
	s.core(20, 480)
	one, _ := run(t, s)
	old := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(old)
	again, _ := run(t, s)
	if diff := cmp.Diff(one, again); diff != "" {
		t.Errorf("one core differs:\n%s", diff)
	}
	sum := unit.Minutes(0)
	for _, task := range one.Tasks() {
		if task.Bench <= 0 || !task.Guess {
			t.Errorf("%s takes %v, a guess %v", task.ID, task.Bench, task.Guess)
		}
		sum += task.Bench
	}
	// Core 25 and 15, four seams of 30, five lamps of 15, the last try 30.
	if sum != 25+15+4*30+5*15+30 {
		t.Errorf("%v minutes of hands", sum)
	}
}

// tall is a tower of shells with a core, a lamp in each, and wires from each to the
// next.
func tall(n int) (s stack) {
	for i := range n {
		part := fmt.Sprintf("p%d", i)
		s.shell(part, float64(100*i), float64(100*i+100), 50)
		s.lamp("lamp-"+part, part, float64(100*i+50), model.Sealed)
		if i > 0 {
			s.wire(fmt.Sprintf("w%d", i), fmt.Sprintf("lamp-p%d", i-1), "lamp-"+part, 30)
		}
	}
	s.core(20, float64(100*n-20))
	return s
}

// A tall tower with a wire from each shell to the next takes no search to speak of: an order that never
// turns back.
func TestTallTower(t *testing.T) {
	s := tall(16)
	s.in.Limit = 1
	a, found := run(t, s)
	if len(found) != 0 {
		t.Fatal(codes(found))
	}
	newJudge(s).replay(t, a)
}

func BenchmarkRun(b *testing.B) {
	s := tall(60)
	for b.Loop() {
		run(b, s)
	}
}

// What place gets wrong, or has not, stops nothing.
func TestOddPlaces(t *testing.T) {
	var s stack
	s.shell("low", 0, 100, 50)
	s.shell("high", 100, 200, 50)
	s.shell("thin", 200, 200, 50) // no length at all
	s.lamp("lamp", "low", 50, model.Pressed)
	s.lamp("lost", "nowhere", 50, model.Serviced) // in a piece that is none
	s.lamp("deep", "low", -1e9, model.Serviced)   // off its piece
	s.in.Places.Bays[0].Reached = []string{"no such opening", "low-high"}
	s.in.Places.Ways = []model.Way{
		{Wire: "none", From: "gone", To: "also gone"},
		{Wire: "half", From: "lamp", To: "outside", Length: 1},
		{Wire: "same", From: "lamp", To: "lamp", Path: [][3]unit.Length{{}, {0, 0, 300}}},
	}
	s.in.Design.Mounts = []model.Mount{{ID: "ghost", Host: "low", Guest: "nobody"}, {ID: "host", Host: "nobody", Guest: "low"}}
	a, found := run(t, s)
	if len(found) != 0 {
		t.Fatal(codes(found))
	}
	for _, id := range []string{"put.lamp", "put.lost", "put.deep", "draw.none", "solder.half", "solder.same"} {
		if !slices.ContainsFunc(a.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == id }) {
			t.Errorf("no step %s", id)
		}
	}
}
