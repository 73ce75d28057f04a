package finishing

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"scalewright/craft/surface"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// surfaces are the seen areas of the finished pieces.
func (in Input) surfaces(ctx context.Context) ([]model.Surface, error) {
	var all solid.Mesh
	for _, c := range in.Carved {
		all = append2(all, c.Solid)
	}
	if all.Empty() {
		return nil, nil
	}
	tree, err := solid.NewTree(all)
	if err != nil {
		return nil, fmt.Errorf("what is seen of the build: %w", err)
	}
	var out []model.Surface
	for i, p := range in.Division.Pieces {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !in.finished(p.ID.Part) || p.ID.Kind == model.CoreRing || p.ID.Kind == model.CollarRing || p.ID.Kind == model.Bush {
			continue
		}
		if s := in.surface(i, tree); s.Area >= leastArea {
			out = append(out, s)
		}
	}
	return out, nil
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

func (in Input) finished(part string) bool {
	for _, p := range in.Parts {
		if p.ID == part {
			return p.Finished
		}
	}
	return false
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
		panic("finishing: internal error: " + err.Error())
	}
	if _, hit := tree.FirstHit(ray); hit {
		return 0
	}
	return area
}

func (in Input) layer(printer string) float64 {
	for _, p := range in.Printers {
		if p.ID == printer {
			return float64(p.Layer)
		}
	}
	return 0
}

// seamLength is the length of a seam round the body, mm.
func (in Input) seamLength(s model.Seam) float64 {
	for i, p := range in.Division.Pieces {
		if p.ID == s.Below {
			return math.Pi * float64(in.Carved[i].Diameter)
		}
	}
	return 0
}
