package turning

import (
	"cmp"
	"math"
	"slices"

	"scalewright/model"
)

// Loops are the closed polygons round the region: outer ones anticlockwise and
// holes clockwise, with radius to the right and station upwards. Points in a
// row on a straight line are run together.
func (r Region) Loops() [][]model.Point {
	next := map[model.Point][]model.Point{}
	for _, e := range r.edges() {
		next[e[0]] = append(next[e[0]], e[1])
	}
	starts := make([]model.Point, 0, len(next))
	for p := range next {
		starts = append(starts, p)
	}
	slices.SortFunc(starts, func(a, b model.Point) int {
		return cmp.Or(cmp.Compare(a.Station, b.Station), cmp.Compare(a.Radius, b.Radius))
	})
	var loops [][]model.Point
	for _, start := range starts {
		for len(next[start]) > 0 {
			if loop := straighten(trace(next, start)); len(loop) > 2 {
				loops = append(loops, loop)
			}
		}
	}
	return loops
}

// trace follows edges from start back to it, taking them off the map. Where
// two loops touch it takes the sharpest left turn, which keeps them apart.
func trace(next map[model.Point][]model.Point, start model.Point) []model.Point {
	var loop []model.Point
	at, from := start, start
	for {
		ways := next[at]
		if len(ways) == 0 {
			panic("turning: internal error: a loop does not close")
		}
		pick := 0
		for i := 1; i < len(ways); i++ {
			if turn(from, at, ways[i]) > turn(from, at, ways[pick]) {
				pick = i
			}
		}
		to := ways[pick]
		next[at] = slices.Delete(slices.Clone(ways), pick, pick+1)
		loop = append(loop, at)
		from, at = at, to
		if at == start {
			return loop
		}
	}
}

func turn(a, b, c model.Point) float64 {
	in := math.Atan2(b.Station-a.Station, b.Radius-a.Radius)
	out := math.Atan2(c.Station-b.Station, c.Radius-b.Radius)
	return math.Remainder(out-in, 2*math.Pi)
}

// edges are the directed sides of all bands and, at each station, the stretches
// where the region begins or ends. The region lies to the left of each.
func (r Region) edges() [][2]model.Point {
	var out [][2]model.Point
	add := func(z0, r0, z1, r1 float64) {
		if a, b := (model.Point{Station: z0, Radius: r0}), (model.Point{Station: z1, Radius: r1}); a != b {
			out = append(out, [2]model.Point{a, b})
		}
	}
	type ends struct{ below, above []float64 }
	at := map[float64]*ends{}
	station := func(z float64) *ends {
		if at[z] == nil {
			at[z] = &ends{}
		}
		return at[z]
	}
	for _, s := range r.slabs {
		for _, b := range s.bands {
			add(s.z0, b.out0, s.z1, b.out1)
			add(s.z1, b.in1, s.z0, b.in0)
			station(s.z0).above = append(station(s.z0).above, b.in0, b.out0)
			station(s.z1).below = append(station(s.z1).below, b.in1, b.out1)
		}
	}
	for z, e := range at {
		for _, level := range levels(e.below, e.above) {
			if level.above {
				add(z, level.from, z, level.to)
			} else {
				add(z, level.to, z, level.from)
			}
		}
	}
	slices.SortFunc(out, func(a, b [2]model.Point) int {
		return cmp.Or(cmp.Compare(a[0].Station, b[0].Station), cmp.Compare(a[0].Radius, b[0].Radius),
			cmp.Compare(a[1].Station, b[1].Station), cmp.Compare(a[1].Radius, b[1].Radius))
	})
	return out
}

// level is a stretch of one station covered on one side only.
type level struct {
	from, to float64
	above    bool
}

// levels compares what is covered just below and just above a station; both
// come as pairs of inner and outer radius.
func levels(below, above []float64) []level {
	cuts := slices.Concat(below, above)
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []level
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		under, over := covered(below, from, to), covered(above, from, to)
		if under == over {
			continue
		}
		if n := len(out); n > 0 && out[n-1].to == from && out[n-1].above == over {
			out[n-1].to = to
			continue
		}
		out = append(out, level{from, to, over})
	}
	return out
}

func covered(pairs []float64, from, to float64) bool {
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i] <= from && to <= pairs[i+1] {
			return true
		}
	}
	return false
}

// Points nearer than this are one; a corner flatter than this is none. Ten
// grid steps: what rounding leaves where two edges cross.
const blunt = 10 * grid

func straighten(loop []model.Point) []model.Point {
	for {
		n := len(loop)
		loop = slices.Clone(loop)
		for i := 0; i < len(loop) && len(loop) > 2; {
			a, b, c := loop[(i+len(loop)-1)%len(loop)], loop[i], loop[(i+1)%len(loop)]
			if offLine(a, b, c) < blunt {
				loop = slices.Delete(loop, i, i+1)
				continue
			}
			i++
		}
		if len(loop) == n {
			return loop
		}
	}
}

// offLine is how far b lies from the segment a c.
func offLine(a, b, c model.Point) float64 {
	dz, dr := c.Station-a.Station, c.Radius-a.Radius
	length := math.Hypot(dz, dr)
	if length == 0 {
		return math.Hypot(b.Station-a.Station, b.Radius-a.Radius)
	}
	t := ((b.Station-a.Station)*dz + (b.Radius-a.Radius)*dr) / (length * length)
	t = min(1, max(0, t))
	return math.Hypot(b.Station-a.Station-t*dz, b.Radius-a.Radius-t*dr)
}
