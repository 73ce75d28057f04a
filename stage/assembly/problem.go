package assembly

import (
	"math"

	"scalewright/model"
)

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
	p.bushes()
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

// along is the stretch of the build's axis that a thing takes.
func (p *problem) along(i int) (low, high float64) {
	t := p.things[i]
	if len(t.rows) == 0 && t.piece != nil {
		at := p.Shapes[i].Span
		return float64(at.From), float64(at.To)
	}
	return t.low, t.high
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

func (p *problem) name(i int) string { return p.things[i].name }
