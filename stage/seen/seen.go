package seen

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"scalewright/craft/surface"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Run finds the seen areas of the finished pieces, in the division's order.
func Run(ctx context.Context, in Input) ([]model.Surface, finding.List, error) {
	var all solid.Mesh
	for _, c := range in.Carved {
		all = append2(all, c.Solid)
	}
	if all.Empty() {
		return nil, nil, nil
	}
	tree, err := solid.NewTree(all)
	if err != nil {
		return nil, nil, fmt.Errorf("what is seen of the build: %w", err)
	}
	found := make([]model.Surface, len(in.Division.Pieces))
	thrown := make([]any, len(found))
	var next atomic.Int64
	var work sync.WaitGroup
	for range min(len(found), runtime.GOMAXPROCS(0)) {
		work.Go(func() { // goroutine i writes found[i] and thrown[i] alone
			for i := int(next.Add(1)) - 1; i < len(found) && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				if in.finished(in.Division.Pieces[i].ID) {
					found[i], thrown[i] = in.caught(i, tree)
				}
			}
		})
	}
	work.Wait()
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	var out []model.Surface
	for i, s := range found {
		if thrown[i] != nil {
			panic(thrown[i]) // here, where it is caught
		}
		if s.Area >= leastArea {
			out = append(out, s)
		}
	}
	return out, nil, nil
}

// caught is surface, and what a fault of ours threw.
func (in Input) caught(i int, tree *solid.Tree) (s model.Surface, thrown any) {
	defer func() { thrown = recover() }()
	return in.surface(i, tree), nil
}

// append2 puts two solids side by side in one mesh.
func append2(a, b solid.Mesh) solid.Mesh {
	base := int32(len(a.Vertices))
	a.Vertices = append(a.Vertices, b.Vertices...)
	for _, t := range b.Triangles {
		a.Triangles = append(a.Triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
	}
	return a
}

// finished reports whether a piece is of a finished part and shows: what holds others
// together from inside is not.
func (in Input) finished(id model.PieceID) bool {
	if id.Kind == model.CoreRing || id.Kind == model.CollarRing || id.Kind == model.Bush {
		return false
	}
	return slices.Contains(in.Finished, id.Part)
}

// surface adds up the triangles of a piece that are seen.
func (in Input) surface(i int, tree *solid.Tree) model.Surface {
	out := model.Surface{Piece: in.Division.Pieces[i].ID, ByDepth: make([]float64, len(model.RoughLimits)+1)}
	layer := in.layer(in.Division.Pieces[i].Printer)
	m, place := in.Carved[i].Solid, in.Prints[i].Placement
	type patch struct{ depth, area float64 }
	var all []patch
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		twice := n.Length()
		if twice == 0 {
			continue
		}
		n = n.Scale(1 / twice)
		area := seenOf(tree, [3]solid.Vec{a, b, c}, n, twice/2)
		if area == 0 {
			continue
		}
		depth := surface.Depth(surface.Cusp(layer, place.Turn(n)[2]), floorDeep*layer/floorLayer)
		all = append(all, patch{depth, area})
		out.Area += area
		out.Mean += unit.Length(depth * area)
		class := 0
		for class < len(model.RoughLimits) && depth > float64(model.RoughLimits[class]) {
			class++
		}
		out.ByDepth[class] += area
	}
	if out.Area == 0 {
		return out
	}
	out.Mean /= unit.Length(out.Area)
	slices.SortFunc(all, func(a, b patch) int { return cmp.Compare(a.depth, b.depth) })
	sum := 0.0
	for _, p := range all {
		sum += p.area
		out.Depth = unit.Length(p.depth)
		if sum >= highShare*out.Area {
			break
		}
	}
	return out
}

// seenOf is how much of a triangle is seen. One that is long is halved across its
// longest edge: a strip down a whole wall is not hidden because a fin stands on
// some of it.
func seenOf(tree *solid.Tree, t [3]solid.Vec, n solid.Vec, area float64) float64 {
	longest, length := 0, 0.0
	for i := range t {
		if l := t[(i+1)%3].Sub(t[i]).Length(); l > length {
			longest, length = i, l
		}
	}
	if length > patchLong {
		a, b, c := t[longest], t[(longest+1)%3], t[(longest+2)%3]
		middle := a.Add(b).Scale(0.5)
		return seenOf(tree, [3]solid.Vec{a, middle, c}, n, area/2) + seenOf(tree, [3]solid.Vec{middle, b, c}, n, area/2)
	}
	centre := t[0].Add(t[1]).Add(t[2]).Scale(1.0 / 3)
	ray, err := solid.NewRay(centre.Add(n.Scale(handAway)), n, far)
	if err != nil {
		panic("seen: internal error: " + err.Error())
	}
	if _, hit := tree.FirstHit(ray); hit {
		return 0
	}
	return area
}

func (in Input) layer(printer string) float64 { return float64(in.Layers[printer]) }
