package assembly

import (
	"cmp"
	"context"
	"slices"

	"scalewright/model"
)

func (p *problem) sort() {
	slices.SortStableFunc(p.joints, func(a, b joint) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.station, b.station), cmp.Compare(a.task.ID, b.task.ID))
	})
}

// bodies says for each thing which body it belongs to: the least index in it.
type bodies []int

func (p *problem) apart() bodies {
	b := make(bodies, len(p.things))
	for i := range b {
		b[i] = i
	}
	return b
}

func (b bodies) of(i int) []int {
	var out []int
	for k, label := range b {
		if label == b[i] {
			out = append(out, k)
		}
	}
	return out
}

func (b bodies) united(i, j int) bodies {
	out := slices.Clone(b)
	into, from := min(b[i], b[j]), max(b[i], b[j])
	for k := range out {
		if out[k] == from {
			out[k] = into
		}
	}
	return out
}

// close unites the bodies of a joint where its ways are free and no wire stands in
// the way; side says where the later body comes from.
func (p *problem) close(b bodies, j joint, wires []wire) (next bodies, side model.Side, ok bool) {
	if b[j.keeps] == b[j.comes] {
		return b, "", true
	}
	for _, h := range j.hosts {
		if b[h] != b[j.keeps] {
			return b, "", false
		}
	}
	keeps, comes := b.of(j.keeps), b.of(j.comes)
	side = model.FromSide
	if !j.side {
		side, ok = p.way(keeps, comes)
		if !ok {
			return b, "", false
		}
	}
	next = b.united(j.keeps, j.comes)
	if j.bonded && !p.wired(b, next, keeps, comes, side, wires) {
		return b, "", false
	}
	return next, side, true
}

// way is along which way one body comes to another; where both are free, the
// shorter.
func (p *problem) way(keeps, comes []int) (model.Side, bool) {
	nose, foot := true, true
	for _, x := range comes {
		for _, y := range keeps {
			nose = nose && p.pass[x][y]
			foot = foot && p.pass[y][x]
		}
	}
	switch {
	case nose && foot && p.travel(keeps, comes, model.FromFoot) < p.travel(keeps, comes, model.FromNose):
		return model.FromFoot, true
	case nose:
		return model.FromNose, true
	case foot:
		return model.FromFoot, true
	}
	return "", false
}

// order is a sequence of joints and, after each, the bodies.
type order struct {
	joints []int // of problem.joints
	sides  []model.Side
	after  []bodies
}

func (o order) bodies(p *problem) bodies {
	if len(o.after) == 0 {
		return p.apart()
	}
	return o.after[len(o.after)-1]
}

// outcome of a search.
type outcome int

const (
	found   outcome = iota
	none            // every way was tried
	unknown         // the limit was reached
)

// search looks for an order of the glued joints, then of those that come apart.
// Where there is none the order is the longest that was found.
func (p *problem) search(ctx context.Context, wires []wire) (order, outcome, error) {
	s := searching{problem: p, wires: wires, failed: map[string]bool{}}
	for _, bonded := range []bool{true, false} {
		s.bonded = bonded
		s.now.joints, s.now.sides, s.now.after = slices.Clone(s.now.joints), slices.Clone(s.now.sides), slices.Clone(s.now.after)
		ok, err := s.deeper(ctx)
		switch {
		case err != nil:
			return order{}, unknown, err
		case !ok && len(s.failed) >= p.limit:
			return s.best, unknown, nil
		case !ok:
			return s.best, none, nil
		}
	}
	return s.now, found, nil
}

type searching struct {
	*problem
	wires  []wire
	bonded bool
	failed map[string]bool // sets of closed joints that lead nowhere
	now    order
	best   order
}

// deeper closes one more joint and all after it; false where none can be.
func (s *searching) deeper(ctx context.Context) (bool, error) {
	if err := ctx.Err(); err != nil {
		return false, err
	}
	if len(s.now.joints) >= len(s.best.joints) {
		s.best = order{slices.Clone(s.now.joints), slices.Clone(s.now.sides), slices.Clone(s.now.after)}
	}
	closed := s.closed()
	if s.failed[string(closed)] || len(s.failed) >= s.limit {
		return false, nil
	}
	left := false
	b := s.now.bodies(s.problem)
	for k, j := range s.joints {
		if closed[k] == 1 || j.bonded != s.bonded {
			continue
		}
		left = true
		next, side, ok := s.close(b, j, s.wires)
		if !ok {
			continue
		}
		s.now.joints = append(s.now.joints, k)
		s.now.sides = append(s.now.sides, side)
		s.now.after = append(s.now.after, next)
		if ok, err := s.deeper(ctx); ok || err != nil {
			return ok, err
		}
		n := len(s.now.joints) - 1
		s.now.joints, s.now.sides, s.now.after = s.now.joints[:n], s.now.sides[:n], s.now.after[:n]
	}
	if left {
		s.failed[string(closed)] = true
	}
	return !left, nil
}

func (s *searching) closed() []byte {
	set := make([]byte, len(s.joints))
	for _, k := range s.now.joints {
		set[k] = 1
	}
	return set
}
