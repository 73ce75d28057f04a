package lane

import (
	"cmp"
	"math"
	"slices"

	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
)

// apart says how far every piece is moved where the build is pulled apart: pieces
// on one line along it, in the order in which they go together; guests off their
// hosts the way they came.
type apart struct {
	r    job.Result
	by   []solid.Vec
	done []bool
	// Traces are the ways back: from the guest as it was moved to its host.
	traces [][2]solid.Vec
	// Air is kept between what would touch, mm.
	air float64
	// Spread is how much of the radii's sum two round ends are pulled apart more, so
	// that in the view the one does not hide the other.
	spread float64
}

// airShare is the air between pieces pulled apart, as a share of the build's least
// side. Common sense; a guess.
const airShare = 0.12

// pulledApart moves the pieces. Turn is how far the view is turned along the line.
func pulledApart(r job.Result, turn float64) *apart {
	n := len(r.Carved)
	a := &apart{r: r, by: make([]solid.Vec, n), done: make([]bool, n), spread: 0.8 * math.Abs(math.Tan(turn))}
	low := solid.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}
	high := low.Scale(-1)
	for _, c := range r.Carved {
		b := c.Solid.Bounds()
		for k := range low {
			low[k], high[k] = min(low[k], b.Min[k]), max(high[k], b.Max[k])
		}
	}
	size := high.Sub(low)
	a.air = airShare * min(size[0], size[1], size[2])
	for _, line := range a.lines() {
		a.pull(line)
	}
	for i := range r.Carved {
		a.guest(i, n)
	}
	return a
}

// PulledApart says how far each of the carved pieces is moved where the build is pulled
// apart the way it was put together, mm, for a view that can be turned.
func PulledApart(r job.Result) []solid.Vec { return pulledApart(r, aslantTurn).by }

// line is a row of pieces that come apart along a direction, from its foot.
type line struct {
	along  solid.Vec
	pieces []int
}

// lines are the build's own, and of every part with a line of its own that is in
// several pieces.
func (a *apart) lines() []line {
	var out []line
	var main []int
	for i, piece := range a.r.Division.Pieces {
		if i < len(a.by) && (!piece.Own && piece.ID.Kind != model.Panel || a.onAxis(i)) {
			main = append(main, i)
		}
	}
	if len(main) > 0 {
		out = append(out, line{solid.Vec{0, 0, 1}, a.inOrder(main)})
	}
	own := map[string][]int{}
	var parts []string
	for i, piece := range a.r.Division.Pieces {
		if i >= len(a.by) || !piece.Own || slices.Contains(main, i) || piece.ID.Kind == model.Panel {
			continue
		}
		if len(own[piece.ID.Part]) == 0 {
			parts = append(parts, piece.ID.Part)
		}
		own[piece.ID.Part] = append(own[piece.ID.Part], i)
	}
	for _, part := range parts {
		list := a.inOrder(own[part])
		first, last := a.middle(list[0]), a.middle(list[len(list)-1])
		if len(list) > 1 && first != last {
			out = append(out, line{mainly(last.Sub(first)), list})
		}
	}
	return out
}

// mainly is a direction; one that is nearly along an axis of the build is along it:
// middles of pieces that are not alike lie a little aside.
func mainly(v solid.Vec) solid.Vec {
	const nearly = 0.95
	v = v.Unit()
	for k, x := range v {
		if math.Abs(x) > nearly {
			v = solid.Vec{}
			v[k] = math.Copysign(1, x)
			break
		}
	}
	return v
}

func (a *apart) middle(i int) solid.Vec {
	b := a.r.Carved[i].Solid.Bounds()
	return b.Min.Add(b.Max).Scale(0.5)
}

// onAxis reports whether a guest lies round the build's axis and faces along it.
func (a *apart) onAxis(i int) bool {
	if len(a.r.Design.Outline) == 0 {
		return false
	}
	part := partOf(a.r, a.r.Division.Pieces[i])
	m, d := a.middle(i), part.Axis.Direction
	return part.Form == model.Turned && !part.OnBody() && math.Hypot(d[0], d[1]) < 0.01 && math.Hypot(m[0], m[1]) < 1
}

// step is the act that puts a piece to its place, and the piece that takes it.
func (a *apart) step(i int) (host int, side model.Side) {
	id := a.r.Division.Pieces[i].ID
	for _, s := range a.r.Assembly.Steps {
		if len(s.Pieces) < 2 || s.Task.Kind != model.Join || !slices.Contains(s.Pieces, id) {
			continue
		}
		for _, other := range s.Pieces {
			if other != id {
				return a.index(other), s.Side
			}
		}
	}
	return -1, ""
}

func (a *apart) index(id model.PieceID) int {
	return slices.IndexFunc(a.r.Division.Pieces[:len(a.by)], func(p model.Piece) bool { return p.ID == id })
}

// inOrder sorts pieces from foot to nose: shells by station, and beside each what
// goes into it from its foot and from its nose.
func (a *apart) inOrder(list []int) []int {
	type place struct {
		at   float64
		side int
		own  float64
	}
	places := map[int]place{}
	for _, i := range list {
		piece := a.r.Division.Pieces[i]
		at := float64(piece.Span.From+piece.Span.To) / 2
		p := place{at, 0, at}
		if kind := piece.ID.Kind; kind == model.CollarRing || kind == model.CoreRing || a.onAxis(i) {
			if host, side := a.step(i); host >= 0 {
				span := a.r.Division.Pieces[host].Span
				p = place{float64(span.From+span.To) / 2, 1, at}
				if side == model.FromFoot {
					p.side = -1
				}
			}
		}
		places[i] = p
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(i, j int) int {
		p, q := places[i], places[j]
		return cmp.Or(cmp.Compare(p.at, q.at), cmp.Compare(p.side, q.side), cmp.Compare(p.own, q.own))
	})
	return list
}

// pull sets the pieces of a line one after the other with air between.
func (a *apart) pull(l line) {
	reached, across := math.Inf(-1), 0.0
	for n, i := range l.pieces {
		low, high, foot, nose := reach(a.r.Carved[i].Solid, l.along)
		move := 0.0
		if n > 0 {
			move = reached + a.air + a.spread*(across+foot) - low
		}
		a.by[i] = l.along.Scale(move)
		reached, across = high+move, nose
	}
	// The middle stays.
	middle := l.along.Scale(a.by[l.pieces[len(l.pieces)-1]].Dot(l.along) / 2)
	for _, i := range l.pieces {
		a.by[i] = a.by[i].Sub(middle)
	}
}

// endShare is how much of a piece counts as its end.
const endShare = 0.02

// reach is how far a solid goes along a direction, and the radii of its two ends.
func reach(m solid.Mesh, along solid.Vec) (low, high, foot, nose float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range m.Vertices {
		low, high = min(low, v.Dot(along)), max(high, v.Dot(along))
	}
	b := m.Bounds()
	middle := b.Min.Add(b.Max).Scale(0.5)
	for _, v := range m.Vertices {
		at := v.Dot(along)
		off := v.Sub(middle)
		radius := off.Sub(along.Scale(off.Dot(along))).Length()
		if at < low+endShare*(high-low) {
			foot = max(foot, radius)
		}
		if at > high-endShare*(high-low) {
			nose = max(nose, radius)
		}
	}
	return low, high, foot, nose
}
