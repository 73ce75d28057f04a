package solidtest

import (
	"math"
	"slices"

	"scalewright/solid"
)

// SlowEdge is an edge that counts in a view, and the stretches of it that are
// covered, from 0 to 1 along it.
type SlowEdge struct {
	From, To solid.Vec // in space
	Length   float64   // on the paper
	Covered  [][2]float64
}

// Hidden is the length on the paper that is covered.
func (e SlowEdge) Hidden() float64 {
	total := 0.0
	for _, c := range e.Covered {
		total += (c[1] - c[0]) * e.Length
	}
	return total
}

// SlowEdges returns the edges of closed meshes that count in a view, by their
// definition: one face looks at the eye and the other doesn't, or they turn by
// more than the angle. A face less high on the paper than 2⁻²⁸ of the size is seen
// edge-on and doesn't look at the eye. Sections and intersections aren't looked at.
func SlowEdges(meshes []solid.Mesh, frame solid.Frame, crease float64) []SlowEdge {
	type edge struct{ lo, hi int32 }
	var out []SlowEdge
	least := 0x1p-28 * solid.Join(meshes...).Bounds().Size().Length()
	for _, m := range meshes {
		normals, looks := map[edge][]solid.Vec{}, map[edge][]bool{}
		var order []edge
		for _, t := range m.Triangles {
			a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
			n := b.Sub(a).Cross(c.Sub(a)).Unit()
			p, q, r := frame.Flatten(a), frame.Flatten(b), frame.Flatten(c)
			twice := b.Sub(a).Cross(c.Sub(a)).Dot(frame.N)
			look := twice > least*max(distance(p, q), distance(q, r), distance(r, p))
			for k := range 3 {
				e := edge{min(t[k], t[(k+1)%3]), max(t[k], t[(k+1)%3])}
				if len(normals[e]) == 0 {
					order = append(order, e)
				}
				normals[e], looks[e] = append(normals[e], n), append(looks[e], look)
			}
		}
		for _, e := range order {
			n := normals[e]
			if looks[e][0] == looks[e][1] && n[0].Dot(n[1]) > math.Cos(crease) {
				continue
			}
			p, q := m.Vertices[e.lo], m.Vertices[e.hi]
			a, b := frame.Flatten(p), frame.Flatten(q)
			out = append(out, SlowEdge{From: p, To: q, Length: distance(a, b)})
		}
	}
	return out
}

// SlowCover finds what covers edges by looking at every triangle for each: the
// stretch where its three barycentric coordinates and the height of it above the
// edge, all linear along the edge, are positive. Coincidences are not cared for.
func SlowCover(edges []SlowEdge, m solid.Mesh, frame solid.Frame) {
	n := frame.N
	for i := range edges {
		e := &edges[i]
		for _, t := range m.Triangles {
			a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
			area := b.Sub(a).Cross(c.Sub(a)).Dot(n)
			if area == 0 {
				continue
			}
			// Of a point p on the edge, as a row of what must be positive.
			rows := func(p solid.Vec) (out [4]float64) {
				out[0] = c.Sub(b).Cross(p.Sub(b)).Dot(n) / area
				out[1] = a.Sub(c).Cross(p.Sub(c)).Dot(n) / area
				out[2] = 1 - out[0] - out[1]
				out[3] = a.Scale(out[0]).Add(b.Scale(out[1])).Add(c.Scale(out[2])).Sub(p).Dot(n)
				return out
			}
			from, to := 0.0, 1.0
			f, g := rows(e.From), rows(e.To)
			for k := range 4 {
				least := 1e-9
				if k == 3 {
					least *= 100 // a height, on things of 100 mm
				}
				switch {
				case f[k] <= least && g[k] <= least:
					to = 0
				case f[k] < 0:
					from = max(from, f[k]/(f[k]-g[k]))
				case g[k] < 0:
					to = min(to, f[k]/(f[k]-g[k]))
				}
			}
			if from < to {
				e.Covered = append(e.Covered, [2]float64{from, to})
			}
		}
		slices.SortFunc(e.Covered, func(a, b [2]float64) int {
			switch {
			case a[0] < b[0]:
				return -1
			case a[0] > b[0]:
				return 1
			}
			return 0
		})
		var union [][2]float64
		for _, c := range e.Covered {
			if n := len(union); n > 0 && c[0] <= union[n-1][1] {
				union[n-1][1] = max(union[n-1][1], c[1])
				continue
			}
			union = append(union, c)
		}
		e.Covered = union
	}
}
