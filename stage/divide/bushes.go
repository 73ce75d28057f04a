package divide

import (
	"math"

	"scalewright/craft/bush"
	"scalewright/model"
	"scalewright/unit"
)

// bushes centre the stand's post in the core, where the post enters it and where it
// ends: two, printed with the part that the core begins in. None where the post
// fills the core, or ends past it.
func bushes(in Input, d model.Division) []model.Piece {
	if in.Stand == nil || in.Core == nil || !bush.Fills(in.Stand.Post, in.Core.Stock) {
		return nil
	}
	part := ""
	for _, p := range d.Pieces {
		if p.ID.Kind == model.Shell && !p.Own && (part == "" || p.Span.From <= in.Core.Span.From) {
			part = p.ID.Part
		}
	}
	spans := bush.Spans(*in.Core, *in.Stand, insideCore(in, d))
	if part == "" || spans[1].To > in.Core.Span.To || spans[0].Length() < bush.Least {
		return nil
	}
	var out []model.Piece
	for i, from := range [...]string{model.Foot, model.Top} {
		out = append(out, model.Piece{
			ID:   model.PieceID{Kind: model.Bush, Part: part, From: from},
			Name: [...]string{"lower bush", "upper bush"}[i], Span: spans[i],
			Filament: filament(in, part), Direction: model.FootDown,
		})
	}
	return out
}

// insideCore is how far up a joint that is narrower than the core reaches into its
// foot.
func insideCore(in Input, d model.Division) unit.Length {
	taken := in.Core.Span.From
	for _, s := range d.Seams {
		above, onBody := d.Piece(s.Above)
		if top := s.Station + s.Engage; onBody && !above.Own && s.Engage > 0 && s.Station < in.Core.Span.From+s.Engage && top > taken && !roundCore(in, d, s) {
			taken = unit.Length(math.Ceil(float64(top + model.EndGap)))
		}
	}
	return taken
}

// bushHours is what laying a bush takes; negative where it does not fit.
func bushHours(in Input, p model.Piece, printer model.Printer) float64 {
	out, hole := bush.CoreBore(in.Core.Stock), in.Stand.Post.OD
	if out > bed(printer) {
		return -1
	}
	area := math.Pi / 4 * float64(unit.Length(out*out-hole*hole))
	return area*float64(p.Span.Length())*discFilled/rate(printer)/3600 + printer.WarmUp.Hours()
}
