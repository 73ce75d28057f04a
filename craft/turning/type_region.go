package turning

import (
	"math"
	"slices"

	"scalewright/model"
)

// Region is a set of points of the half plane, held as slabs between stations;
// in each slab it is a row of bands with straight edges. Immutable; the zero
// value is empty.
type Region struct {
	slabs []slab // by station, not overlapping
}

// slab is the region between two stations.
type slab struct {
	z0, z1 float64
	bands  []band // by radius, not overlapping
}

// band is a trapezoid of a slab: its inner and outer radius at both stations.
type band struct {
	in0, in1, out0, out1 float64
}

// Every coordinate lies on this grid: far below anything a printer can do, far
// above the rounding of float64 at 10 m.
const grid = 1e-6

func snap(x float64) float64 { return math.Round(x/grid) * grid }

// Taper is the trapezoid between two stations, with its inner and outer radii
// at the lower and the upper one. Empty where it has no height.
func Taper(z0, z1, in0, in1, out0, out1 float64) Region {
	s := slab{z0: snap(z0), z1: snap(z1)}
	b := band{snap(max(0, in0)), snap(max(0, in1)), snap(out0), snap(out1)}
	if s.z1 <= s.z0 || (b.out0 <= b.in0 && b.out1 <= b.in1) {
		return Region{}
	}
	s.bands = []band{b}
	return Region{[]slab{s}}
}

// Ring is the rectangle between two stations and two radii: a tube.
func Ring(z0, z1, in, out float64) Region { return Taper(z0, z1, in, in, out, out) }

// Under is all that lies between the axis and a profile whose stations never
// run back.
func Under(profile []model.Point) Region {
	var r Region
	for i := 1; i < len(profile); i++ {
		a, b := profile[i-1], profile[i]
		r.slabs = append(r.slabs, Taper(a.Station, b.Station, 0, 0, a.Radius, b.Radius).slabs...)
	}
	return r
}

// Empty reports whether nothing is left.
func (r Region) Empty() bool { return len(r.slabs) == 0 }

// Bounds are the least and largest station and the largest radius.
func (r Region) Bounds() (z0, z1, out float64) {
	if r.Empty() {
		return 0, 0, 0
	}
	for _, s := range r.slabs {
		for _, b := range s.bands {
			out = max(out, b.out0, b.out1)
		}
	}
	return r.slabs[0].z0, r.slabs[len(r.slabs)-1].z1, out
}

// at interpolates an edge of the slab; exactly its ends at the ends.
func (s slab) at(e0, e1, z float64) float64 {
	switch z {
	case s.z0:
		return e0
	case s.z1:
		return e1
	}
	return snap(e0 + float64((e1-e0)*((z-s.z0)/(s.z1-s.z0))))
}

// split is the slab cut at the given stations inside it.
func (s slab) split(cuts []float64) []slab {
	at := []float64{s.z0}
	for _, z := range cuts {
		if z > s.z0 && z < s.z1 {
			at = append(at, z)
		}
	}
	at = append(at, s.z1)
	slices.Sort(at)
	at = slices.Compact(at)
	out := make([]slab, len(at)-1)
	for i := range out {
		out[i] = slab{z0: at[i], z1: at[i+1]}
		for _, b := range s.bands {
			out[i].bands = append(out[i].bands, band{
				s.at(b.in0, b.in1, at[i]), s.at(b.in0, b.in1, at[i+1]),
				s.at(b.out0, b.out1, at[i]), s.at(b.out0, b.out1, at[i+1]),
			})
		}
	}
	return out
}
