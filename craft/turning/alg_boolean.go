package turning

import (
	"cmp"
	"slices"
)

// Union is everything in r or in q.
func (r Region) Union(q Region) Region {
	return combine(r, q, func(a, b bool) bool { return a || b })
}

// Minus is everything in r and not in q.
func (r Region) Minus(q Region) Region {
	return combine(r, q, func(a, b bool) bool { return a && !b })
}

// Intersect is everything in both.
func (r Region) Intersect(q Region) Region {
	return combine(r, q, func(a, b bool) bool { return a && b })
}

// combine cuts both regions at every station where an edge begins, ends or
// crosses an edge of the other; between such stations the edges keep their
// order, so a walk along the radius decides what is inside.
func combine(r, q Region, keep func(inR, inQ bool) bool) Region {
	cuts := crossings(r, q)
	rs, qs := index(r, cuts), index(q, cuts)
	var out Region
	for i := 1; i < len(cuts); i++ {
		key := [2]float64{cuts[i-1], cuts[i]}
		s := slab{z0: key[0], z1: key[1], bands: walk(rs[key], qs[key], keep)}
		if len(s.bands) > 0 {
			out.slabs = append(out.slabs, s)
		}
	}
	return out
}

func index(r Region, cuts []float64) map[[2]float64][]band {
	at := map[[2]float64][]band{}
	for _, s := range r.slabs {
		for _, part := range s.split(cuts) {
			at[[2]float64{part.z0, part.z1}] = part.bands
		}
	}
	return at
}

// crossings are all stations at which the combined region may change form.
func crossings(r, q Region) []float64 {
	var at []float64
	for _, s := range slices.Concat(r.slabs, q.slabs) {
		at = append(at, s.z0, s.z1)
	}
	slices.Sort(at)
	at = slices.Compact(at)
	var more []float64
	rs, qs := index(r, at), index(q, at)
	for i := 1; i < len(at); i++ {
		key := [2]float64{at[i-1], at[i]}
		for _, a := range rs[key] {
			for _, b := range qs[key] {
				more = append(more, bandCrossings(key, a, b)...)
			}
		}
	}
	at = append(at, more...)
	slices.Sort(at)
	return slices.Compact(at)
}

func bandCrossings(z [2]float64, a, b band) []float64 {
	var at []float64
	for _, e := range [][2]float64{{a.in0, a.in1}, {a.out0, a.out1}} {
		for _, f := range [][2]float64{{b.in0, b.in1}, {b.out0, b.out1}} {
			d0, d1 := e[0]-f[0], e[1]-f[1]
			if d0*d1 < 0 {
				at = append(at, snap(z[0]+(z[1]-z[0])*(d0/(d0-d1))))
			}
		}
	}
	return at
}

// edge is a band's side on the walk outwards.
type edge struct {
	e0, e1 float64
	second bool // of q
	enters bool
}

func walk(rs, qs []band, keep func(inR, inQ bool) bool) []band {
	edges := append(sides(rs, false), sides(qs, true)...)
	slices.SortStableFunc(edges, func(a, b edge) int { return cmp.Compare(a.e0+a.e1, b.e0+b.e1) })
	var out []band
	var open edge
	inR, inQ, inside := false, false, false
	for _, e := range edges {
		if e.second {
			inQ = e.enters
		} else {
			inR = e.enters
		}
		now := keep(inR, inQ)
		switch {
		case now && !inside:
			open = e
		case inside && !now && (e.e0 > open.e0 || e.e1 > open.e1):
			// At a crossing the grid may put the edges a step the wrong way round.
			out = join(out, band{min(open.e0, e.e0), min(open.e1, e.e1), e.e0, e.e1})
		}
		inside = now
	}
	return out
}

// join appends a band, run together with the last where they share an edge.
func join(bands []band, b band) []band {
	if n := len(bands); n > 0 {
		last := bands[n-1]
		b.in0, b.in1 = max(b.in0, last.out0), max(b.in1, last.out1)
		b.out0, b.out1 = max(b.out0, b.in0), max(b.out1, b.in1)
	}
	if n := len(bands); n > 0 && bands[n-1].out0 == b.in0 && bands[n-1].out1 == b.in1 {
		bands[n-1].out0, bands[n-1].out1 = b.out0, b.out1
		return bands
	}
	return append(bands, b)
}

func sides(bands []band, second bool) []edge {
	var out []edge
	for _, b := range bands {
		out = append(out, edge{b.in0, b.in1, second, true}, edge{b.out0, b.out1, second, false})
	}
	return out
}
