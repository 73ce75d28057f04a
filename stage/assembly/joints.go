package assembly

import (
	"fmt"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// joint unites the bodies of two things.
type joint struct {
	id      string // of the seam or mount; empty: none of those
	task    model.Task
	at      finding.Place
	keeps   int   // the thing that stays where it is
	comes   int   // the thing that comes to it
	hosts   []int // of a guest from the side: all that it sits on
	side    bool  // comes from the side
	slide   bool  // onto the core
	bonded  bool
	between bool // of two parts, so that it could be made removable
	station unit.Length
	ids     []string // of all mounts that it closes
	verb    string   // of a seam: what is done with the two
}

// problem is what the search sees: things, joints, and what must be reached.
type problem struct {
	Input
	things []*thing
	index  map[model.PieceID]int
	core   int // -1: none
	stand  int
	joints []joint // glued ones first, each by their rank
	pass   [][]bool
	inside []int // thing that a bay's piece is, by bay; -1: none
	limit  int
}

func newProblem(in Input) *problem {
	p := &problem{Input: in, index: map[model.PieceID]int{}, core: -1, stand: -1, limit: in.Limit}
	if p.limit == 0 {
		p.limit = usualLimit
	}
	for i := range in.Division.Pieces {
		piece := in.Division.Pieces[i]
		p.index[piece.ID] = len(p.things)
		t := &thing{name: piece.Name, piece: &piece, part: piece.ID.Part}
		if loops, ok := onAxis(p.part(piece.ID.Part), in.Shapes[i]); ok {
			t.turned(loops)
		}
		p.things = append(p.things, t)
	}
	p.stock()
	p.pass = make([][]bool, len(p.things))
	for i, x := range p.things {
		p.pass[i] = make([]bool, len(p.things))
		for j, y := range p.things {
			p.pass[i][j] = passes(x, y)
		}
	}
	for _, b := range in.Places.Bays {
		k, ok := p.index[b.Piece]
		if !ok {
			k = -1
		}
		p.inside = append(p.inside, k)
	}
	p.rings()
	p.seams()
	p.mounts()
	p.slides()
	p.stands()
	p.sort()
	return p
}

func (p *problem) part(id string) model.Part {
	for _, q := range p.Design.Parts {
		if q.ID == id {
			return q
		}
	}
	return model.Part{ID: id, Own: true}
}

// stock are the core and the post of the stand.
func (p *problem) stock() {
	c, s := p.Design.Core, p.Design.Stand
	if c == nil {
		return
	}
	p.core = len(p.things)
	t := &thing{name: "the core"}
	out := float64(c.Stock.OD) / 2
	t.turned(tube(float64(c.Span.From), float64(c.Span.To), out-float64(c.Stock.Wall), out))
	p.things = append(p.things, t)
	if s == nil || s.Post.OD == 0 {
		return
	}
	p.stand = len(p.things)
	t = &thing{name: "the stand's post"}
	t.turned(tube(-float64(s.Below), float64(c.Span.From+s.Engage), 0, float64(s.Post.OD)/2))
	p.things = append(p.things, t)
}

// rings are the core rings and collars, each fixed in the shell above it, and the
// core on its lowest ring.
func (p *problem) rings() {
	lowest := -1
	for _, s := range p.Division.Seats {
		ring, ok := p.index[s.Ring]
		host, also := p.index[s.Host]
		if !ok || !also {
			continue
		}
		p.seat(ring, host, s.Span.From)
		if lowest < 0 || p.things[ring].low < p.things[lowest].low {
			lowest = ring
		}
	}
	for _, s := range p.Division.Seams {
		collar, ok := p.index[model.PieceID{Kind: model.CollarRing, Part: s.Above.Part, From: s.Above.From}]
		if host, also := p.index[s.Above]; ok && also && s.Kind == model.Collar {
			p.seat(collar, host, s.Station)
		}
	}
	if p.core < 0 {
		return
	}
	if lowest < 0 {
		lowest = p.firstOnCore()
	}
	if lowest >= 0 {
		p.joints = append(p.joints, joint{
			task:  model.Task{ID: model.FitCore, Kind: model.Join, Name: "put the core into the " + p.things[lowest].name, Bench: coreMinutes, Guess: true},
			keeps: lowest, comes: p.core, bonded: true, station: p.Design.Core.Span.From, at: p.Design.Core.At,
		})
	}
}

func (p *problem) seat(ring, host int, station unit.Length) {
	id := p.things[ring].piece.ID
	name := "glue the core ring into "
	if id.Kind == model.CollarRing {
		name = "glue the collar into the foot of "
	}
	p.joints = append(p.joints, joint{
		task: model.Task{
			ID: model.SeatTask(id), Kind: model.Join, Name: name + p.things[host].name,
			Piece: id.String(), Bench: seatMinutes, Cure: seatHolds, Guess: true,
		},
		keeps: host, comes: ring, bonded: true, station: station, at: p.part(id.Part).At,
	})
}

// firstOnCore is the shell in which the core begins.
func (p *problem) firstOnCore() int {
	best := -1
	core := p.things[p.core]
	for i, t := range p.things {
		low, high := p.along(i)
		if onCore := len(t.rows) > 0 || t.piece != nil && t.piece.OnCore; t.piece == nil || !onCore || high <= core.low || low >= core.high {
			continue
		}
		if first, _ := p.along(max(best, 0)); best < 0 || low < first {
			best = i
		}
	}
	return best
}

// along is the stretch of the build's axis that a thing takes.
func (p *problem) along(i int) (low, high float64) {
	t := p.things[i]
	if len(t.rows) == 0 && t.piece != nil {
		at := p.Shapes[i].Span
		return float64(at.From), float64(at.To)
	}
	return t.low, t.high
}

// slides are the pieces that the core runs through and that no joint holds to what
// it runs through besides: each is glued to the core.
func (p *problem) slides() {
	if p.core < 0 {
		return
	}
	for i, t := range p.things {
		if t.piece == nil || !t.piece.OnCore {
			continue
		}
		b := p.apart()
		for _, j := range p.joints {
			b = b.united(j.keeps, j.comes)
		}
		if b[i] == b[p.core] {
			continue
		}
		low, _ := p.along(i)
		p.joints = append(p.joints, joint{
			task: model.Task{
				ID: model.SlideTask(t.piece.ID), Kind: model.Join, Name: "slide the " + t.name + " onto the core and glue it",
				Piece: t.piece.ID.String(), Bench: glueMinutes, Cure: stock.GlueFor("").Cure, Guess: true,
			},
			slide: true, keeps: p.core, comes: i, bonded: true, station: unit.Length(low), at: p.part(t.part).At,
		})
	}
}

func (p *problem) seams() {
	for _, s := range p.Division.Seams {
		below, ok := p.index[s.Below]
		above, also := p.index[s.Above]
		if !ok || !also {
			continue
		}
		j := joint{
			id: s.ID, ids: []string{s.ID}, keeps: below, comes: above, bonded: !s.Removable, station: s.Station,
			between: s.Below.Part != s.Above.Part, at: p.part(s.Above.Part).At, task: joining(s.ID, s.Removable, s.Glue, glueMinutes),
		}
		j.verb = j.task.Name
		j.task.Name += p.things[below].name + " to " + p.things[above].name
		for _, f := range p.Design.Interfaces {
			if f.ID == s.ID {
				j.at = f.At
			}
		}
		p.joints = append(p.joints, j)
	}
}

// mounts are guests; one that is mounted to several hosts is glued in one go.
func (p *problem) mounts() {
	done := map[string]bool{}
	for _, m := range p.Design.Mounts {
		if done[m.Guest] {
			continue
		}
		done[m.Guest] = true
		guest := p.first(m.Guest)
		if guest < 0 {
			continue
		}
		j := joint{id: m.ID, at: m.At, comes: guest, between: true, side: len(p.things[guest].rows) == 0, bonded: !m.Removable}
		var named []string
		for _, also := range p.Design.Mounts {
			if also.Guest != m.Guest {
				continue
			}
			j.ids = append(j.ids, also.ID)
			j.bonded = j.bonded || !also.Removable
			j.hosts = append(j.hosts, p.under(also.Host, m.Guest)...)
			named = append(named, also.Host)
		}
		if len(j.hosts) == 0 {
			continue
		}
		j.keeps = j.hosts[0]
		low, high := p.reachOf(m.Guest)
		j.station = unit.Length((low + high) / 2)
		j.task = joining(m.ID, !j.bonded, m.Glue, guestMinutes)
		j.task.Name += m.Guest + " to " + string(finding.Names(named...))
		p.joints = append(p.joints, j)
	}
}

// stands raises the core onto the stand's post.
func (p *problem) stands() {
	if p.stand < 0 {
		return
	}
	p.joints = append(p.joints, joint{
		task:  model.Task{ID: model.RaiseTask, Kind: model.Raise, Name: "raise it onto the stand", Bench: raiseMinutes, Guess: true},
		keeps: p.stand, comes: p.core, station: p.Design.Core.Span.From, at: p.Design.Stand.At,
	})
}

// first is the first piece of a part.
func (p *problem) first(part string) int {
	for i, t := range p.things {
		if t.piece != nil && t.part == part && t.piece.ID.Kind != model.Panel {
			return i
		}
	}
	return -1
}

// under are the pieces of a host that a guest sits on: those it lies beside, or
// where none does, the first.
func (p *problem) under(host, guest string) []int {
	low, high := p.reachOf(guest)
	var out []int
	for i, t := range p.things {
		if t.piece == nil || t.part != host || t.piece.ID.Kind != model.Shell && t.piece.ID.Kind != model.Slice {
			continue
		}
		if at := p.Shapes[i].Span; float64(at.From) < high && float64(at.To) > low {
			out = append(out, i)
		}
	}
	if k := p.first(host); len(out) == 0 && k >= 0 {
		out = append(out, k)
	}
	return out
}

// reachOf is the stretch along the build's axis that a part takes.
func (p *problem) reachOf(part string) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i, t := range p.things {
		if t.piece != nil && t.part == part {
			at := p.Shapes[i].Span
			low, high = min(low, float64(at.From)), max(high, float64(at.To))
		}
	}
	if low > high {
		return 0, 0
	}
	return low, high
}

// rank is the order in which a foreman would try: rings into their shells, the
// core, glued joints from the datum up, guests, then what comes apart again, and
// the stand last.
func (j joint) rank() int {
	switch {
	case j.task.Kind == model.Raise:
		return 6
	case !j.bonded:
		return 5
	case j.slide:
		return 2
	case j.id == "" && j.task.ID != model.FitCore:
		return 0
	case j.id == "":
		return 1
	case j.side:
		return 3
	}
	return 2
}

func (p *problem) name(i int) string { return p.things[i].name }

func (j joint) String() string { return fmt.Sprintf("%s at %v", j.task.ID, j.station) }
