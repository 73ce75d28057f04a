package assembly_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
)

// judge knows a stack only by its definition: it slides boxes past each other
// millimetre by millimetre and fills the room inside like water. It shares no code
// with the stage.
type judge struct {
	s      stack
	boxes  [][][]model.Point // by thing: pieces, then the core
	joins  []join
	bays   []int // thing of each bay
	wires  [][2]int
	reachd map[string]bool
}

type join struct {
	task  string
	a, b  int
	glued bool
	at    float64 // of a seam; NaN: wires don't hang through it
}

func newJudge(s stack) *judge {
	j := &judge{s: s, reachd: map[string]bool{}}
	thing := map[string]int{}
	for i, p := range s.in.Division.Pieces {
		thing[p.ID.Part] = i
		j.boxes = append(j.boxes, s.in.Shapes[i].Loops)
	}
	for _, seam := range s.in.Division.Seams {
		j.joins = append(j.joins, join{"join." + seam.ID, thing[seam.Below.Part], thing[seam.Above.Part], !seam.Removable, float64(seam.Station)})
	}
	for _, m := range s.in.Design.Mounts {
		k := thing[m.Guest]
		z := j.boxes[k][0]
		j.joins = append(j.joins, join{"join." + m.ID, thing[m.Host], k, !m.Removable, (z[0].Station + z[2].Station) / 2})
	}
	if c := s.in.Design.Core; c != nil {
		core := len(j.boxes)
		j.boxes = append(j.boxes, [][]model.Point{box(float64(c.Span.From), float64(c.Span.To), 8, 10)})
		first := -1
		for k := range core {
			low, high := j.span(k)
			if high > float64(c.Span.From) && low < float64(c.Span.To) && (first < 0 || low < lowOf(j, first)) {
				first = k
			}
		}
		j.joins = append(j.joins, join{model.FitCore, first, core, true, math.NaN()})
	}
	at := map[string]int{}
	for i, b := range s.in.Places.Bays {
		j.bays = append(j.bays, thing[b.Part])
		at[b.Component] = i
	}
	for _, w := range s.in.Places.Ways {
		j.wires = append(j.wires, [2]int{at[w.From], at[w.To]})
	}
	return j
}

func lowOf(j *judge, k int) float64 { low, _ := j.span(k); return low }

func (j *judge) span(k int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, b := range j.boxes[k] {
		low, high = min(low, b[0].Station), max(high, b[2].Station)
	}
	return low, high
}

// slides reports whether thing x, moved from far towards the nose down to its
// place, never overlaps y. Up to half a millimetre may rub; boxes are whole
// millimetres, so any overlap is too much.
func (j *judge) slides(x, y int) bool {
	for shift := 0.0; shift < 1000; shift++ {
		for _, a := range j.boxes[x] {
			for _, b := range j.boxes[y] {
				if a[0].Radius < b[1].Radius && b[0].Radius < a[1].Radius &&
					a[0].Station+shift < b[2].Station && b[0].Station < a[2].Station+shift {
					return false
				}
			}
		}
	}
	return true
}

// directions lists how far body b has to come to body a, for each free way along
// the axis.
func (j *judge) directions(a, b []int) []float64 {
	up, down := true, true
	for _, x := range b {
		for _, y := range a {
			up = up && j.slides(x, y)
			down = down && j.slides(y, x)
		}
	}
	low := func(body []int) (z float64) {
		z = math.Inf(1)
		for _, k := range body {
			z = min(z, lowOf(j, k))
		}
		return z
	}
	high := func(body []int) (z float64) {
		z = math.Inf(-1)
		for _, k := range body {
			_, h := j.span(k)
			z = max(z, h)
		}
		return z
	}
	var out []float64
	if up {
		out = append(out, max(0, high(a)-low(b)))
	}
	if down {
		out = append(out, max(0, high(b)-low(a)))
	}
	return out
}

// reached fills the room of a body with squares 25 mm wide in radius (or 25 mm
// across the axis) from the bay and sees whether one gets out.
func (j *judge) reached(bay int, body []int) bool {
	key := strings.Repeat(" ", bay) + string(runes(body))
	if got, ok := j.reachd[key]; ok {
		return got
	}
	const wide, rim = 25, 90
	full := map[[2]int]bool{} // station, radius, whole millimetres
	for _, k := range body {
		for _, b := range j.boxes[k] {
			for z := int(b[0].Station); z < int(b[2].Station); z++ {
				for r := int(b[0].Radius); r < int(b[1].Radius); r++ {
					full[[2]int{z, r}] = true
				}
			}
		}
	}
	// A window is free: from r on, 25 wide; from -1 on, 13 wide from the axis.
	free := func(z, r int) bool {
		from, to := r, r+wide
		if r < 0 {
			from, to = 0, 13
		}
		for q := from; q < to; q++ {
			if full[[2]int{z, q}] {
				return false
			}
		}
		return true
	}
	p := j.s.in.Places.Bays[bay]
	z0 := int(p.Centre[2])
	var todo [][2]int
	seen := map[[2]int]bool{}
	visit := func(z, r int) {
		if r >= -1 && r < rim && z > z0-600 && z < z0+600 && !seen[[2]int{z, r}] && free(z, r) && math.Abs(float64(z-z0)+0.5) <= 500 {
			seen[[2]int{z, r}] = true
			todo = append(todo, [2]int{z, r})
		}
	}
	at := int(p.Centre[0])
	for r := at - wide + 1; r <= at; r++ {
		visit(z0, max(-1, r))
	}
	out := false
	for len(todo) > 0 && !out {
		c := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		out = c[1] >= 60 // outside every shell
		visit(c[0]-1, c[1])
		visit(c[0]+1, c[1])
		visit(c[0], c[1]-1)
		visit(c[0], c[1]+1)
	}
	j.reachd[key] = out
	return out
}

func runes(body []int) []rune {
	var out []rune
	for _, k := range body {
		out = append(out, rune('a'+k))
	}
	return out
}

// state is what has been done.
type state struct {
	body   []int // of each thing
	closed []bool
	put    []bool
	drawn  []int // by wire: 0 not, 1 or 2: connected at that end, 3: at neither
	joined []bool
}

func (j *judge) begin() state {
	s := state{closed: make([]bool, len(j.joins)), put: make([]bool, len(j.bays)), drawn: make([]int, len(j.wires)), joined: make([]bool, len(j.wires))}
	for k := range j.boxes {
		s.body = append(s.body, k)
	}
	return s
}

func (s state) copy() state {
	return state{slices.Clone(s.body), slices.Clone(s.closed), slices.Clone(s.put), slices.Clone(s.drawn), slices.Clone(s.joined)}
}

func (s state) of(k int) []int {
	var out []int
	for i, b := range s.body {
		if b == s.body[k] {
			out = append(out, i)
		}
	}
	return out
}

func (j *judge) canPut(s state, bay int) bool {
	return !s.put[bay] && j.reached(bay, s.of(j.bays[bay]))
}

func (j *judge) atEnd(s state, bay int) bool { return s.put[bay] && j.reached(bay, s.of(j.bays[bay])) }

func (j *judge) canDraw(s state, w, end int) bool {
	if s.drawn[w] != 0 || end < 2 && !j.atEnd(s, j.wires[w][end]) {
		return false
	}
	for k, c := range j.joins {
		if s.closed[k] && j.between(w, c) {
			return false
		}
	}
	return true
}

// between reports whether a wire hangs through a glued joint.
func (j *judge) between(w int, c join) bool {
	a := float64(j.s.in.Places.Bays[j.wires[w][0]].Centre[2])
	b := float64(j.s.in.Places.Bays[j.wires[w][1]].Centre[2])
	return c.glued && min(a, b) < c.at && c.at < max(a, b)
}

func (j *judge) canConnect(s state, w int) bool {
	if s.drawn[w] == 3 {
		return !s.joined[w] && j.atEnd(s, j.wires[w][0]) && j.atEnd(s, j.wires[w][1])
	}
	return s.drawn[w] != 0 && !s.joined[w] && j.atEnd(s, j.wires[w][2-s.drawn[w]])
}

// close unites two bodies, or says that it cannot be done.
func (j *judge) close(s state, k int) (state, bool) {
	c := j.joins[k]
	next := s.copy()
	next.closed[k] = true
	if s.body[c.a] == s.body[c.b] {
		return next, true
	}
	a, b := s.of(c.a), s.of(c.b)
	ways := j.directions(a, b)
	if len(ways) == 0 {
		return s, false
	}
	if c.glued {
		for w, ends := range j.wires {
			x, y := s.body[j.bays[ends[0]]], s.body[j.bays[ends[1]]]
			crosses := x == s.body[c.a] && y == s.body[c.b] || x == s.body[c.b] && y == s.body[c.a]
			way := j.s.in.Places.Ways[w]
			slack := float64(way.Length) - math.Abs(float64(way.Path[0][2]-way.Path[1][2]))
			if s.drawn[w] == 0 && j.between(w, c) || crosses && s.joined[w] && slack < 150+slices.Min(ways) {
				return s, false
			}
		}
	}
	for i := range next.body {
		if next.body[i] == s.body[c.b] {
			next.body[i] = s.body[c.a]
		}
	}
	return next, true
}

// possible tries every order of every act.
func (j *judge) possible(s state) bool {
	done := true
	for i := range j.bays {
		if !s.put[i] {
			done = false
			if j.canPut(s, i) {
				// Putting early never hurts, so one order of putting stands for all.
				next := s.copy()
				next.put[i] = true
				return j.possible(next)
			}
		}
	}
	for w := range j.wires {
		for end := range 3 {
			if j.canDraw(s, w, end) {
				next := s.copy()
				next.drawn[w] = end + 1
				if j.possible(next) {
					return true
				}
			}
		}
		if j.canConnect(s, w) {
			next := s.copy()
			next.joined[w] = true
			if j.possible(next) {
				return true
			}
		}
		done = done && s.joined[w]
	}
	for _, glued := range []bool{true, false} {
		for k, c := range j.joins {
			if s.closed[k] || c.glued != glued {
				continue
			}
			done = false
			if next, ok := j.close(s, k); ok && j.possible(next) {
				return true
			}
		}
		if glued && !j.allGlued(s) {
			return false // what comes apart waits for all glue
		}
	}
	return done
}

func (j *judge) allGlued(s state) bool {
	for k, c := range j.joins {
		if c.glued && !s.closed[k] {
			return false
		}
	}
	return true
}

// replay does the acts of an answer one by one.
func (j *judge) replay(t failer, a model.Assembly) {
	t.Helper()
	s := j.begin()
	at := map[string]int{}
	for i, b := range j.s.in.Places.Bays {
		at[b.Component] = i
	}
	wire := map[string]int{}
	for i, w := range j.s.in.Places.Ways {
		wire[w.Wire] = i
	}
	over := map[string]bool{}
	for n, step := range a.Steps {
		id := step.Task.ID
		for _, first := range step.Task.After {
			if slices.ContainsFunc(a.Steps, func(s model.AssemblyStep) bool { return s.Task.ID == first }) && !over[first] {
				t.Errorf("step %d, %s, waits for %s, which comes later", n, id, first)
			}
		}
		over[id] = true
		what, which, _ := strings.Cut(id, ".")
		ok := true
		switch what {
		case "put":
			ok = j.canPut(s, at[which])
			s.put[at[which]] = true
		case "draw":
			w := wire[which]
			end := 0
			if strings.HasSuffix(step.Task.Name, j.s.in.Places.Bays[j.wires[w][1]].Component) {
				end = 1
			}
			if strings.HasSuffix(step.Task.Name, "hanging") {
				end = 2
			}
			ok = j.canDraw(s, w, end)
			s.drawn[w] = end + 1
		case "solder":
			ok = j.canConnect(s, wire[which])
			s.joined[wire[which]] = true
		case "join", "core":
			k := slices.IndexFunc(j.joins, func(c join) bool { return c.task == id })
			s, ok = j.close(s, k)
			if j.joins[k].glued {
				for i := range j.bays {
					shut := !j.reached(i, s.of(j.bays[i]))
					if said := slices.Contains(step.Shuts, j.s.in.Places.Bays[i].Component); shut && !s.put[i] || said && !shut {
						t.Errorf("step %d, %s: bay %d shut %v, put %v, said %v", n, id, i, shut, s.put[i], said)
					}
				}
			}
		}
		if !ok {
			t.Errorf("step %d, %s, cannot be done", n, id)
		}
	}
	for k, c := range j.joins {
		if !s.closed[k] {
			t.Errorf("%s is never closed", c.task)
		}
	}
	if slices.Contains(s.put, false) || slices.Contains(s.joined, false) {
		t.Errorf("put %v, connected %v", s.put, s.joined)
	}
}

type failer interface {
	Helper()
	Errorf(string, ...any)
}

// small is a random build of two to four shells.
func small(t *rapid.T) stack {
	var s stack
	names := []string{"a", "b", "c", "d"}[:rapid.IntRange(2, 4).Draw(t, "shells")]
	top := 0.0
	for _, n := range names {
		var closed []string
		if rapid.IntRange(0, 3).Draw(t, "foot") == 0 {
			closed = append(closed, model.Foot)
		}
		if rapid.IntRange(0, 3).Draw(t, "nose") == 0 {
			closed = append(closed, model.Nose)
		}
		high := float64(rapid.SampledFrom([]int{40, 100, 400}).Draw(t, "high"))
		s.shell(n, top, top+high, 50, closed...)
		top += high
	}
	part := func(what string) (string, float64) {
		k := rapid.IntRange(0, len(names)-1).Draw(t, what)
		span := s.in.Division.Pieces[k].Span
		return names[k], float64(span.From + span.Length()/2)
	}
	if rapid.IntRange(0, 2).Draw(t, "plug") == 0 {
		host, mid := part("plugged")
		s.plug("plug", host, mid+10, 48)
	}
	if rapid.IntRange(0, 2).Draw(t, "core") == 0 {
		from := float64(rapid.IntRange(3, 30).Draw(t, "from"))
		s.core(from, max(from+20, top-float64(rapid.IntRange(3, 60).Draw(t, "short"))))
	}
	for k := range rapid.IntRange(0, 2).Draw(t, "lamps") {
		host, mid := part("lit")
		s.lamp(names[k]+"-lamp", host, mid, rapid.SampledFrom([]model.Service{model.Sealed, model.Serviced}).Draw(t, "service"))
	}
	if len(s.in.Places.Bays) == 2 && rapid.Bool().Draw(t, "wired") {
		s.wire("w", "a-lamp", "b-lamp", float64(rapid.SampledFrom([]int{10, 160, 900}).Draw(t, "slack")))
	}
	for _, seam := range s.in.Division.Seams {
		if rapid.IntRange(0, 4).Draw(t, "loose") == 0 {
			s.removable(seam.ID)
		}
	}
	return s
}

// The stage finds an order exactly where one of all orders works, that order
// works, and what must be serviced is called shut exactly where water does not
// get in.
func TestAgainstAllOrders(t *testing.T) {
	some, none := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		s := small(rt)
		a, found := run(t, s)
		j := newJudge(s)
		want := j.possible(j.begin())
		final := j.begin()
		for range j.joins {
			for _, c := range j.joins {
				if c.glued {
					for i := range final.body {
						if x, y := final.body[c.a], final.body[c.b]; final.body[i] == max(x, y) {
							final.body[i] = min(x, y)
						}
					}
				}
			}
		}
		shut, outside := false, false
		for i, c := range s.in.Design.Components {
			outside = outside || !j.canPut(j.begin(), i)
			shut = shut || c.Service == model.Serviced && !j.reached(i, final.of(j.bays[i]))
		}
		said := func(prefix string) bool {
			return slices.ContainsFunc(codes(found), func(c string) bool { return strings.HasPrefix(c, prefix) })
		}
		if said("no-way-into-piece") != outside || !outside && said("bonded-shut") != shut {
			rt.Errorf("no way in: %v, shut for good: %v, found %v", outside, shut, codes(found))
		}
		if got := len(found) == 0; got != (want && !shut) {
			rt.Errorf("an order exists: %v; found %v, steps %v", want, codes(found), a.Steps)
		}
		if len(a.Steps) > 0 {
			some++
			j.replay(rt, a)
		} else {
			none++
		}
	})
	if some == 0 || none == 0 {
		t.Errorf("%d builds with an order, %d without: the cases say nothing", some, none)
	}
}
