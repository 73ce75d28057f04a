package turning

import (
	"math"
	"slices"

	"scalewright/model"
)

// Each stretch between two corners is sampled at insetTries places, denser
// towards its ends, where the disc's edge stands steep, and then straightened to
// within insetSag, a tenth of what a printer can place. Rolling discs a little
// larger than the wall makes up for both: chords of a disc of 3 mm over 1/24 of
// a half turn lie 0.0065 inside it.
const (
	insetTries = 24
	insetSag   = 0.005
	insetSpare = 0.012
)

// Inset is the profile of the cavity that leaves a wall of at least the given
// thickness, square to the surface, under an outer profile: the lower envelope
// of discs of that radius rolled along it. Radii below least are closed to the
// axis. Steps of the profile count as walls too.
func Inset(profile []model.Point, wall, least float64) []model.Point {
	wall += insetSpare
	from, to := profile[0].Station, profile[len(profile)-1].Station
	at := []float64{from, to}
	for _, p := range profile {
		at = append(at, p.Station-wall, p.Station, p.Station+wall)
	}
	slices.Sort(at)
	at = slices.Compact(at)
	var out []model.Point
	for i := 1; i < len(at); i++ {
		a, b := max(from, at[i-1]), min(to, at[i])
		if b <= a {
			continue
		}
		// Just inside the ends, since the cavity may step there.
		for k := range insetTries + 1 {
			z := min(b, a+(b-a)*(1-math.Cos(math.Pi*float64(k)/insetTries))/2)
			r := insetAt(profile, wall, min(b-grid/10, max(a+grid/10, z)))
			if r < least {
				r = 0
			}
			out = append(out, model.Point{Station: z, Radius: r})
		}
	}
	return simplify(out, insetSag)
}

// insetAt is the lowest point at a station of all the capsules of radius w
// round the profile's segments; never above the profile itself.
func insetAt(profile []model.Point, w, z float64) float64 {
	lowest := math.Inf(1)
	for i, p := range profile {
		if d := z - p.Station; math.Abs(d) <= w {
			lowest = min(lowest, p.Radius-math.Sqrt(w*w-d*d))
		}
		if i == 0 {
			continue
		}
		a := profile[i-1]
		dz, dr := p.Station-a.Station, p.Radius-a.Radius
		length := math.Hypot(dz, dr)
		if dz <= 0 || length == 0 {
			continue
		}
		// The side of the capsule nearer the axis: both ends moved by w along
		// the normal (dr, -dz)/length.
		nz, nr := w*dr/length, -w*dz/length
		if t := (z - a.Station - nz) / dz; t >= 0 && t <= 1 {
			lowest = min(lowest, a.Radius+nr+t*dr)
		}
	}
	return max(0, lowest)
}

// simplify drops points while the polyline stays within sag of them (Douglas
// and Peucker 1973).
func simplify(points []model.Point, sag float64) []model.Point {
	if len(points) < 3 {
		return points
	}
	a, b := points[0], points[len(points)-1]
	worst, at := 0.0, 0
	for i := 1; i < len(points)-1; i++ {
		if d := offLine(a, points[i], b); d > worst {
			worst, at = d, i
		}
	}
	if worst <= sag {
		return []model.Point{a, b}
	}
	left := simplify(points[:at+1], sag)
	return append(slices.Clone(left[:len(left)-1]), simplify(points[at:], sag)...)
}

// SelfSupporting lowers a cavity's profile until no ceiling hangs over further
// than run mm outwards for each mm of height, printed with growing stations
// upwards (or, where noseDown, the other way round). What it fills is material
// that would have been support.
func SelfSupporting(cavity []model.Point, run float64, noseDown bool) []model.Point {
	out := slices.Clone(cavity)
	if noseDown {
		mirror(out)
	}
	// From the top down: a ceiling at height h lets the cavity below it be
	// wider by run for each mm.
	var eased []model.Point
	for i := len(out) - 1; i >= 0; i-- {
		p := out[i]
		if len(eased) == 0 {
			eased = append(eased, p)
			continue
		}
		above := eased[len(eased)-1]
		limit := above.Radius + run*(above.Station-p.Station)
		if p.Radius > limit {
			// Where the slope meets the wall inside this stretch, keep both.
			if next := out[i+1]; next.Radius < p.Radius || p.Radius > limit {
				if z, r, ok := meet(p, next, above, run); ok {
					eased = append(eased, model.Point{Station: z, Radius: r})
				}
			}
			p.Radius = min(p.Radius, limit)
		} else if next := out[i+1]; above.Radius < next.Radius {
			// The wall fell below the slope inside the stretch.
			if z, r, ok := meet(p, next, above, run); ok {
				eased = append(eased, model.Point{Station: z, Radius: r})
			}
		}
		eased = append(eased, p)
	}
	slices.Reverse(eased)
	if noseDown {
		mirror(eased)
	}
	return simplify(eased, insetSag)
}

// meet is where the slope falling from above crosses the wall from p to next.
func meet(p, next, above model.Point, run float64) (z, r float64, ok bool) {
	dz := next.Station - p.Station
	if dz <= 0 {
		return 0, 0, false
	}
	k := (next.Radius - p.Radius) / dz
	// p.Radius + k·x = above.Radius + run·(above.Station - p.Station - x)
	x := (above.Radius + run*(above.Station-p.Station) - p.Radius) / (k + run)
	if math.IsNaN(x) || x <= 0 || x >= dz {
		return 0, 0, false
	}
	// Rounding may carry the sum past the stretch.
	return min(p.Station+x, next.Station), p.Radius + k*x, true
}

func mirror(points []model.Point) {
	slices.Reverse(points)
	for i := range points {
		points[i].Station = -points[i].Station
	}
}
