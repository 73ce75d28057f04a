package truing

import (
	"math"

	"scalewright/craft/redraw"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

const (
	// A corner moves at most so far, mm of the reference, when its neighbours are trued.
	mostMoved = 3.0
	// A truth that moves a segment by more than this many of its doubts is against the
	// measurements: one in a thousand would (two-sided, normal).
	unlikely = 3.29
)

// trued is an outline being trued.
type trued struct {
	in    Input
	old   model.Outline
	est   []estimate
	moved []redraw.Carrier
	kept  map[int]bool // segments that stay as measured
	out   *Result
	found *finding.List
}

// apply trues what is declared, segment by segment, then what is of the whole.
func (t *trued) apply() {
	groups := t.equals()
	for _, d := range t.in.True.Segments {
		i := t.segment(d)
		if i < 0 {
			t.found.Add(finding.New("trued-nothing", d.At, finding.Args{
				"at": finding.Size(unit.Length(d.Station.MM)), "truth": finding.Name(d.Is),
			}))
			continue
		}
		s := t.old[i]
		switch d.Is {
		case model.Parallel, model.NoDraft:
			radius := t.est[i].radius
			middle := (model.Outline{s}).RadiusAt((s.From.Station + s.To.Station) / 2)
			if d.Across.Written() {
				middle = d.Across.MM / 2
			}
			t.level(i, middle)
			off := math.Hypot(ratio(middle-(model.Outline{s}).RadiusAt(t.est[i].middle), radius.U), ratio(t.est[i].slope.X, t.est[i].slope.U))
			if d.Is == model.NoDraft {
				off = ratio(middle-(model.Outline{s}).RadiusAt((s.From.Station+s.To.Station)/2), radius.U)
			}
			t.note(d, i, off)
		case model.Equal:
			g := groups[i]
			t.level(i, g.radius)
			t.note(d, i, g.off)
		case model.SquareTo:
			middle := (s.From.Station + s.To.Station) / 2
			t.moved[i] = redraw.Carrier{Kind: model.Line, P: model.Point{Station: middle, Radius: (s.From.Radius + s.To.Radius) / 2}, Dir: model.Point{Radius: 1}}
			t.note(d, i, ratio(s.To.Station-s.From.Station, math.Sqrt2*placed(t.in.Trace, middle)))
		case model.Tangent:
			t.note(d, i, t.touch(i))
		case model.AsIs:
			t.kept[i] = true
		case model.Symmetric:
		}
	}
	for i, g := range groups { // the other of a pair
		if !t.kept[i] {
			t.level(i, g.radius)
		}
	}
	if t.in.True.Symmetric {
		t.mirror()
	}
}

// level lays a line parallel to the axis.
func (t *trued) level(i int, radius float64) {
	s := t.old[i]
	t.moved[i] = redraw.Carrier{
		Kind: model.Line, P: model.Point{Station: (s.From.Station + s.To.Station) / 2, Radius: radius}, Dir: model.Point{Station: 1},
	}
}

// note keeps what was trued, and says where the measurements are against it.
func (t *trued) note(d model.DeclaredTruth, i int, doubts float64) {
	s := t.old[i]
	t.out.Moved = append(t.out.Moved, Moved{Truth: d.Is, Segment: i, From: s.From.Station, To: s.To.Station, Doubts: math.Abs(doubts)})
	if math.Abs(doubts) > unlikely {
		t.found.Add(finding.New("trued-past-doubt", d.At, finding.Args{
			"at": finding.Size(unit.Length(d.Station.MM)), "truth": finding.Name(d.Is), "doubts": finding.Number(math.Abs(doubts)),
		}).AtStation(unit.Length(d.Station.MM * t.in.Ratio)))
	}
}

// ratio is how many doubts a difference is; one without doubt is as many as can be
// written.
func ratio(off, u float64) float64 {
	const most = 999
	if math.Abs(off) < tiny {
		return 0
	}
	if u <= 0 {
		return most
	}
	return min(most, math.Abs(off)/u)
}

// tiny is a difference, mm or rad, that a truth does not bother with: a micrometre.
const tiny = 1e-3

// segment is the segment at a station that a truth can be of; -1: none.
func (t *trued) segment(d model.DeclaredTruth) int { return t.at(d.Station.MM, d.Is) }

func (t *trued) at(station float64, is model.Truth) int {
	best, off := -1, math.Inf(1)
	for i, s := range t.old {
		fits := true
		switch is {
		case model.Parallel, model.NoDraft, model.Equal:
			fits = lengthwise(s)
		case model.SquareTo:
			fits = steep(s) || step(s)
		case model.Tangent:
			fits = s.Kind == model.Arc
		case model.AsIs, model.Symmetric:
		}
		middle := math.Abs(station - (s.From.Station+s.To.Station)/2)
		if fits && station >= s.From.Station-blend && station <= s.To.Station+blend && middle < off {
			best, off = i, middle
		}
	}
	return best
}

// group is what lines of one diameter have in common.
type group struct {
	radius float64
	off    float64 // of the member that lies farthest off, in doubts
}

// equals joins lines that are declared equal, also over a third, and gives each group
// the mean of its radii by the inverse squares of their own doubts.
func (t *trued) equals() map[int]group {
	parent := map[int]int{}
	var root func(int) int
	root = func(i int) int {
		if p, ok := parent[i]; ok && p != i {
			return root(p)
		}
		return i
	}
	var members []int
	for _, d := range t.in.True.Segments {
		if d.Is != model.Equal {
			continue
		}
		i, j := t.segment(d), t.at(d.To.MM, model.Equal)
		if i < 0 || j < 0 || i == j {
			continue
		}
		members = append(members, i, j)
		if a, b := root(i), root(j); a != b {
			parent[max(a, b)] = min(a, b)
		}
	}
	sums := map[int][2]float64{}
	for _, i := range unique(members) {
		own := max(floor, t.est[i].radius.Independent())
		sum := sums[root(i)]
		sums[root(i)] = [2]float64{sum[0] + t.est[i].radius.X/(own*own), sum[1] + 1/(own*own)}
	}
	out := map[int]group{}
	for _, i := range unique(members) {
		sum := sums[root(i)]
		g := group{radius: sum[0] / sum[1]}
		for _, j := range unique(members) {
			if root(j) == root(i) && j != i {
				d := t.est[i].radius.Sub(t.est[j].radius)
				g.off = max(g.off, ratio(d.X, d.U))
			}
		}
		out[i] = g
	}
	return out
}
