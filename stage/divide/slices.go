package divide

import (
	"fmt"
	"math"
	"slices"

	"scalewright/craft/platform"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// slice is a part being divided that is not turned: flat, or from a mesh file.
type slice struct {
	part     model.Part
	raw      model.Raw
	printers []model.Printer
}

func sliceOf(in Input, i int) slice {
	return slice{in.Parts[i], in.Raw[i], permitted(in.Parts[i], in.Printers)}
}

// lying is what a stretch of a part takes of a printer: its hull on the platform
// and its height.
type lying struct {
	hull []solid.Point
	high float64
}

// chooseCuts keeps the accepted cuts and divides what lies between them into
// equal pieces, as few as printers take.
func (s slice) chooseCuts(accepted []model.Cut) ([]model.Cut, finding.List) {
	var found finding.List
	var cuts []model.Cut
	whole := s.raw.Line.Span
	from := float64(whole.From)
	add := func(to float64) {
		more, fault := s.between(from, to)
		cuts = append(cuts, more...)
		found.Add(fault...)
		from = to
	}
	for _, c := range accepted {
		if c.Station <= whole.From || c.Station >= whole.To {
			found.Add(cutOffPart(c, s.part.ID, whole))
			continue
		}
		add(float64(c.Station))
		cuts = append(cuts, c)
	}
	add(float64(whole.To))
	number(cuts)
	return cuts, found
}

// between divides a stretch.
func (s slice) between(from, to float64) ([]model.Cut, finding.List) {
	for n := 1; n == 1 || (to-from)/float64(n) >= leastPiece; n++ {
		at := make([]float64, n+1)
		for k := range at {
			at[k] = from + (to-from)*float64(k)/float64(n)
			if 0 < k && k < n {
				at[k] = math.Round(at[k]/sliceStep) * sliceStep
			}
		}
		if !s.allFit(at) {
			continue
		}
		var cuts []model.Cut
		for _, z := range at[1:n] {
			cuts = append(cuts, model.Cut{At: s.part.At, Part: s.part.ID, Station: unit.Length(z), Provisional: true})
		}
		return cuts, nil
	}
	return nil, finding.List{s.tooLarge(from, to)}
}

// Cuts lie on whole millimetres, so that a rule finds them.
const sliceStep = 1.0

func (s slice) allFit(at []float64) bool {
	for k := 1; k < len(at); k++ {
		size := s.sizeOf(at[k-1], at[k])
		if !slices.ContainsFunc(s.printers, func(p model.Printer) bool { return size.fits(p) }) {
			return false
		}
	}
	return true
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

// pieces are the slices between the cuts of a part.
func (s slice) pieces(core *model.Core, cuts []model.Cut) []model.Piece {
	whole := s.raw.Line.Span
	out := piecesOf(s.part, model.Slice, whole, cuts, s.direction)
	through := s.onCore(core)
	for i, p := range out {
		out[i].OnCore = slices.ContainsFunc(through, func(at unit.Length) bool { return p.Span.Holds(at) })
	}
	return out
}

// direction is lying for a flat part. A piece of a mesh stands on its foot unless
// it can only stand on its nose, or turning it over saves a real overhang.
func (s slice) direction(from, to float64) model.Direction {
	if s.part.Form == model.Flat {
		return model.Lying
	}
	m := s.raw.Solid
	var err error
	if from > float64(s.raw.Line.Span.From) {
		m, _, err = solid.Cut(m, s.raw.Line.Plane(unit.Length(from)))
	}
	if err == nil && to < float64(s.raw.Line.Span.To) {
		_, m, err = solid.Cut(m, s.raw.Line.Plane(unit.Length(to)))
	}
	if err != nil {
		panic(fmt.Sprintf("divide: internal error: %s: %v", s.part.ID, err))
	}
	over := m.Transform(solid.QuarterTurns(0, 2))
	foot, nose := m.Translate(solid.Vec{0, 0, -from}), over.Translate(solid.Vec{0, 0, to})
	least := math.Pi * standsOn * standsOn
	onFoot, onNose := platform.Contact(foot) >= least, platform.Contact(nose) >= least
	saved := platform.Overhang(foot, steepest) - platform.Overhang(nose, steepest)
	if onNose && (!onFoot || saved > overhangWorth) {
		return model.NoseDown
	}
	return model.FootDown
}

// What leans out further from the vertical hangs: design rules of printing
// services.
const steepest = 45 * math.Pi / 180

// hoursOn is what laying a piece takes on a printer; negative where it does not
// fit.
func (s slice) hoursOn(p model.Printer, piece model.Piece, size lying) float64 {
	if !size.fits(p) {
		return -1
	}
	share := float64(piece.Span.Length() / s.raw.Line.Span.Length())
	return s.raw.Solid.Volume()*share*discFilled/rate(p)/3600 + p.WarmUp.Hours()
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

// onCore are stations of the part's own line at which the core runs through it:
// places on the core's axis and round its outside that lie in the solid.
func (s slice) onCore(core *model.Core) []unit.Length {
	if core == nil {
		return nil
	}
	filled := s.raw.Filled
	if filled.Empty() {
		filled = s.raw.Solid
	}
	back, ok := s.part.Frame().Inverse()
	tree, err := solid.NewTree(filled)
	if !ok || err != nil {
		panic(fmt.Sprintf("divide: internal error: %s: %v", s.part.ID, err))
	}
	var out []unit.Length
	for _, p := range alongCore(*core) {
		p = back.Apply(p)
		if place, err := tree.Locate(p); err == nil && place == solid.Inside {
			out = append(out, unit.Length(s.raw.Line.Station(p)))
		}
	}
	return out
}
