package lane

import "scalewright/solid"

// leastEdges is the length below which edges that hang together with nothing else
// are left out, mm of paper: the rough inside of a hollowed piece has such turns
// all over, and nobody could read them. Common practice; a guess.
const leastEdges = 8.0

// withoutSpecks are the visible lines of a projection, short silhouettes and creases
// left out that meet no other line. The longest of a solid stay. k is mm of paper a
// mm of the build.
func withoutSpecks(p solid.Projection, k float64) []solid.Polyline {
	type place struct {
		at    solid.Point
		depth float64
	}
	// Lines that share a point are one group.
	group := make([]int, len(p.Lines))
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	first := map[place]int{} // only looked up: its order reaches nothing
	for i, l := range p.Lines {
		for j, q := range l.Points {
			at := place{q, l.Depths[j]}
			if other, known := first[at]; known {
				group[root(i)] = root(other)
			} else {
				first[at] = i
			}
		}
	}
	length, longest := make([]float64, len(p.Lines)), map[string]float64{}
	for i, l := range p.Lines {
		n := root(i)
		length[n] += l.Length() * k
		longest[l.Solid] = max(longest[l.Solid], length[n])
	}
	var out []solid.Polyline
	for i, l := range p.Lines {
		if n := root(i); !l.Hidden && length[n] >= min(leastEdges, longest[l.Solid]) {
			out = append(out, l)
		}
	}
	return out
}
