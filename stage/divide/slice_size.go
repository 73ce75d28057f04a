package divide

import (
	"math"

	"scalewright/craft/platform"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// lying is what a stretch of a part takes of a printer: its hull on the platform
// and its height.
type lying struct {
	hull []solid.Point
	high float64
}

// sizeOf is what the stretch between two stations takes: every edge of the solid
// clipped to it, seen from above as it is printed.
func (s slice) sizeOf(from, to float64) lying {
	var seen []solid.Point
	low, high := math.Inf(1), math.Inf(-1)
	take := func(p solid.Vec) {
		seen = append(seen, solid.Point{p[0], p[1]})
		low, high = min(low, p[2]), max(high, p[2])
	}
	line, v := s.raw.Line, s.raw.Solid.Vertices
	for _, t := range s.raw.Solid.Triangles {
		for k := range t {
			a, b := v[t[k]], v[t[(k+1)%3]]
			za, zb := line.Station(a), line.Station(b)
			if max(za, zb) < from || min(za, zb) > to {
				continue
			}
			for _, z := range [...]float64{min(max(za, from), to), min(max(zb, from), to)} {
				p := a
				if za != zb {
					p = a.Add(b.Sub(a).Scale((z - za) / (zb - za)))
				}
				take(p)
			}
		}
	}
	return lying{platform.Hull(seen), high - low}
}

// fits reports whether it lies on a printer's platform, turned as need be.
func (l lying) fits(p model.Printer) bool {
	_, fits := platform.Turn(l.hull, float64(p.Build[0]-2*p.Margin), float64(p.Build[1]-2*p.Margin))
	return fits && l.high <= float64(p.Build[2])
}

// tooLarge says why a stretch cannot be made on any permitted printer.
func (s slice) tooLarge(from, to float64) finding.Finding {
	size := s.sizeOf(from, to)
	across, high := square(size.hull), size.high
	if s.part.Form == model.Flat {
		across = s.across(size.hull)
	} else {
		high = 0 // cuts make it lower
	}
	room, name := unit.Length(0), "no printer"
	for _, p := range s.printers {
		if r := min(bed(p), p.Build[2]); r > room {
			room, name = r, p.Name
		}
	}
	across = max(across, high)
	return finding.New("piece-too-large", s.part.At, finding.Args{
		"across": finding.Size(across), "printer": finding.Name(name), "room": finding.Size(room),
		"percent": finding.Number(math.Floor(float64(room)/across*1000) / 10),
	}).About(s.part.ID)
}

// across is the width of a hull square to the line.
func (s slice) across(hull []solid.Point) float64 {
	d := s.raw.Line.Direction
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range hull {
		x := float64(p[1]*d[0]) - float64(p[0]*d[1])
		least, most = min(least, x), max(most, x)
	}
	return most - least
}

// square is the side of the least square that a hull lies in.
func square(hull []solid.Point) float64 {
	low, high := 0.0, 0.0
	for _, p := range hull {
		for _, q := range hull {
			high = max(high, math.Hypot(p[0]-q[0], p[1]-q[1]))
		}
	}
	for high-low > squareNear {
		middle := (low + high) / 2
		if _, fits := platform.Turn(hull, middle, middle); fits {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}

// A size that is only said is found to this, mm.
const squareNear = 0.05
