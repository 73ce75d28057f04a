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
