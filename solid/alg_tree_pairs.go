package solid

import "context"

// treePairs finds the pairs of triangles of two trees, or of one tree with
// itself, whose boxes meet. Both trees are gone down together, the larger box
// divided first, so that two parts far from each other cost one look.
type treePairs struct {
	a, b  *Tree
	tasks [][2]treePart // what is handed out; the same for any number of workers
}

// treePart is a child of a node.
type treePart struct {
	box       treeBox
	at, count int32
}

func (n *treeNode) part(k int) treePart { return treePart{n.box[k], n.at[k], n.count[k]} }

// root returns the whole tree as a part; of an empty tree it is a leaf of
// nothing.
func (t *Tree) root() treePart {
	if len(t.nodes) == 0 {
		return treePart{box: noTreeBox, count: -1}
	}
	p := treePart{box: t.nodes[0].box[0]}
	p.box.take(&t.nodes[0].box[1])
	return p
}

// meets reports whether two closed boxes have a point in common.
func (b *treeBox) meets(c *treeBox) bool {
	return b[0][0] <= c[1][0] && c[0][0] <= b[1][0] &&
		b[0][1] <= c[1][1] && c[0][1] <= b[1][1] &&
		b[0][2] <= c[1][2] && c[0][2] <= b[1][2]
}

// width is the sum of the edges, which says which of two boxes to divide.
func (b *treeBox) width() float64 {
	return b[1][0] - b[0][0] + b[1][1] - b[0][1] + b[1][2] - b[0][2]
}

// treeTasks is the number of pairs of parts at which they are handed out: many
// times the workers of any machine, so that none waits long for the last.
const treeTasks = 1024

func newTreePairs(a, b *Tree) *treePairs {
	p := &treePairs{a: a, b: b}
	tasks := [][2]treePart{{a.root(), b.root()}}
	for len(tasks) > 0 && len(tasks) < treeTasks {
		var finer [][2]treePart
		divided := false
		for _, t := range tasks {
			if p.leaves(&t[0], &t[1]) {
				finer = append(finer, t)
				continue
			}
			divided = true
			p.divide(&t[0], &t[1], func(x, y *treePart) {
				if x.box.meets(&y.box) {
					finer = append(finer, [2]treePart{*x, *y})
				}
			})
		}
		tasks = finer
		if !divided {
			break
		}
	}
	p.tasks = tasks
	return p
}

func (p *treePairs) leaves(x, y *treePart) bool { return x.count != 0 && y.count != 0 }

// same reports whether two parts of one tree are one. A node has one parent, and
// a leaf starts where no other does.
func (p *treePairs) same(x, y *treePart) bool {
	return p.a == p.b && x.at == y.at && x.count == y.count
}

// divide calls visit with the pairs that a pair consists of; not both are leaves.
func (p *treePairs) divide(x, y *treePart, visit func(x, y *treePart)) {
	switch {
	case p.same(x, y):
		node := &p.a.nodes[x.at]
		low, high := node.part(0), node.part(1)
		visit(&low, &low)
		visit(&low, &high)
		visit(&high, &high)
	case y.count != 0 || x.count == 0 && x.box.width() >= y.box.width():
		for k := range 2 {
			part := p.a.nodes[x.at].part(k)
			visit(&part, y)
		}
	default:
		for k := range 2 {
			part := p.b.nodes[y.at].part(k)
			visit(x, &part)
		}
	}
}

// treeLooks is how many pairs are looked at between two looks at the context.
const treeLooks = 1 << 10

// walk calls visit with the triangles of every pair whose boxes meet. It ends
// early where ctx does.
func (p *treePairs) walk(ctx context.Context, task [2]treePart, visit func(f, g int32)) {
	looks := 0
	var down func(x, y *treePart)
	down = func(x, y *treePart) {
		if !x.box.meets(&y.box) {
			return
		}
		if looks++; looks%treeLooks == 0 && ctx.Err() != nil {
			looks = -1 // so that every call from here on looks again
			return
		}
		if p.leaves(x, y) {
			p.visitLeaves(x, y, visit)
			return
		}
		p.divide(x, y, down)
	}
	down(&task[0], &task[1])
}

func (p *treePairs) visitLeaves(x, y *treePart, visit func(f, g int32)) {
	for i := x.at; i < x.at+x.count; i++ {
		box := p.a.faceBox(i)
		first := y.at
		if p.same(x, y) {
			first = i + 1
		}
		for j := first; j < y.at+y.count; j++ {
			if other := p.b.faceBox(j); box.meets(&other) {
				visit(p.a.order[i], p.b.order[j])
			}
		}
	}
}

// faceBox returns the box of the triangle at a place of the order.
func (t *Tree) faceBox(i int32) treeBox {
	f := &t.faces[i]
	return treeBoxOf(&t.mesh.Vertices[f[0]], &t.mesh.Vertices[f[1]], &t.mesh.Vertices[f[2]])
}
