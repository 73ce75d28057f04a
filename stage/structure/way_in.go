package structure

import (
	"math"

	"scalewright/craft/bush"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// fitsPost says where the post is too thick for its way into the core, that it
// takes rings to fill the core, and what would sit on the base before the build
// sits on its post.
func (in Input) fitsPost() finding.List {
	found := in.onBase()
	if in.Core == nil {
		return found
	}
	stand := *in.Stand
	need := stand.Post.Widest() + bush.PostPlay
	wide := func(room unit.Length, where, part string, station unit.Length) {
		found.Add(finding.New("post-wide", stand.At, finding.Args{
			"post": finding.Name(stand.Post.Name), "needs": finding.Size(need), "room": finding.Size(room), "where": finding.Name(where),
		}).About(part).AtStation(station))
	}
	if bore := in.coreBore(); need > bore {
		wide(max(0, bore), "the core", "", in.Core.Span.From)
	}
	from, to := -float64(stand.Below), float64(in.Core.Span.From)
	for i, c := range in.Carved {
		if in.Division.Pieces[i].ID.Kind == model.Bush {
			continue // it is made for the post
		}
		room, at := nearest(c.Solid, from, to)
		if 2*room < float64(need) {
			p := in.Division.Pieces[i]
			wide(unit.Length(2*room), p.Name, p.ID.Part, unit.Length(at))
		}
	}
	if rings, _ := in.rings(); rings.Outside > 0 && !in.bushed() {
		found.Add(finding.New("post-rings", stand.At, finding.Args{
			"post": finding.Name(stand.Post.Name), "room": finding.Size(in.coreBore()), "outside": finding.Size(rings.Outside),
			"bore": finding.Size(rings.Bore), "first": finding.Long(rings.Stations[0]), "second": finding.Long(rings.Stations[1]),
		}).AtStation(rings.Stations[0]))
	}
	return found
}

// onBase says that a piece reaches below the top of the base, over it.
func (in Input) onBase() finding.List {
	below, half := float64(in.Stand.Below), float64(in.Stand.Across)/2
	deepest, lowest := -1, -below-touching
	for i, c := range in.Carved {
		for _, v := range c.Solid.Vertices {
			over := math.Hypot(v[0], v[1]) < half || in.Stand.Square && math.Max(math.Abs(v[0]), math.Abs(v[1])) < half
			if over && v[2] < lowest {
				deepest, lowest = i, v[2]
			}
		}
	}
	if deepest < 0 {
		return nil
	}
	p := in.Division.Pieces[deepest]
	return finding.List{finding.New("base-hit", in.Stand.At, finding.Args{
		"piece": finding.Name(p.Name), "deep": finding.Size(-below - lowest), "below": finding.Long(math.Ceil(-lowest)),
	}).About(p.ID.Part)}
}

// nearest is how near a solid comes to the axis between two heights, and where:
// the distance of each triangle, clipped to them and seen along the axis. Infinite
// where there is nothing.
func nearest(m solid.Mesh, from, to float64) (distance, at float64) {
	distance = math.Inf(1)
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		if max(a[2], b[2], c[2]) < from || min(a[2], b[2], c[2]) > to {
			continue
		}
		face := above(above([]solid.Vec{a, b, c}, from, 1), to, -1)
		if d := fromAxis(face); d < distance {
			distance, at = d, face[0][2]
		}
	}
	return distance, at
}

// above is the part of a convex face that lies above a height, or below it where
// the sign is -1 (I. E. Sutherland and G. W. Hodgman, "Reentrant polygon
// clipping", CACM 17 (1974) 32–42: one plane at a time).
func above(face []solid.Vec, height, sign float64) []solid.Vec {
	var out []solid.Vec
	for i, p := range face {
		q := face[(i+1)%len(face)]
		dp, dq := sign*(p[2]-height), sign*(q[2]-height)
		if dp >= 0 {
			out = append(out, p)
		}
		if dp < 0 != (dq < 0) {
			out = append(out, p.Add(q.Sub(p).Scale(dp/(dp-dq))))
		}
	}
	return out
}

// nearLine is how near to a line the axis lies on it, mm.
const nearLine = 1e-6

// fromAxis is how near a convex face comes to the axis, seen along it.
func fromAxis(face []solid.Vec) float64 {
	best, left, right := math.Inf(1), false, false
	for i, p := range face {
		q := face[(i+1)%len(face)]
		dx, dy := q[0]-p[0], q[1]-p[1]
		cross := dx*-p[1] - dy*-p[0]          // of the edge and the way to the axis
		hair := nearLine * math.Hypot(dx, dy) // a face in a plane through the axis is all edge
		left, right = left || cross > hair, right || cross < -hair
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = math.Min(1, math.Max(0, -(p[0]*dx+p[1]*dy)/l))
		}
		best = math.Min(best, math.Hypot(p[0]+t*dx, p[1]+t*dy))
	}
	if left != right { // the axis lies inside
		return 0
	}
	return best
}
