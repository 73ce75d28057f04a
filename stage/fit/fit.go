package fit

import (
	"context"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Run sizes every joint.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	w := work{in}
	var out Result
	found := w.checkCore()
	for _, s := range in.Division.Seams {
		fits := w.seam(s)
		found.Add(w.checkJoint(s, fits)...)
		out.Fits = append(out.Fits, fits...)
	}
	for _, s := range in.Division.Seats {
		fits, more := w.seat(s)
		out.Fits = append(out.Fits, fits...)
		found.Add(more...)
	}
	out.Fits = append(out.Fits, w.bored()...)
	out.Together = together(out.Fits, in.Seed)
	found.Add(w.guessed()...)
	return out, found, nil
}

type work struct{ Input }

// side is one printed diameter: as asked, and as it comes out.
func (w work) side(piece model.PieceID, asked float64, bore bool) model.Size {
	printer := w.printerOf(piece)
	off, name := printer.Calibrated.Outer, printer.ID+" outer"
	if bore {
		off, name = printer.Calibrated.Bore, printer.ID+" bore"
	}
	actual := unit.Estimate(asked+off.X, scatter, unit.Source{Name: name, U: off.U})
	return model.Size{Nominal: unit.Length(asked), Actual: actual}
}

// pair sizes the male side to the female.
func (w work) pair(male, female model.PieceID, bore, least float64) model.Fit {
	b := w.side(female, bore, true)
	trial := w.side(male, 0, false)
	play := b.Actual.Sub(trial.Actual)
	asked := play.X - least - spare*play.U
	m := w.side(male, math.Floor(asked*100)/100, false)
	return finish(model.Fit{Male: male.String(), Female: female.String(), MaleSize: m, Bore: b}, mostLoose)
}

// finish works out the clearance and its chances, taken as normal.
func finish(f model.Fit, loose float64) model.Fit {
	f.Clearance = f.Bore.Actual.Sub(f.MaleSize.Actual)
	f.Bind = below(0, f.Clearance)
	f.Loose = 1 - below(loose, f.Clearance)
	return f
}

// below is the chance that a normal value is less than x.
func below(x float64, v unit.Value) float64 {
	if v.U == 0 {
		if v.X < x {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc((v.X-x)/(v.U*math.Sqrt2))
}

func (w work) printerOf(piece model.PieceID) model.Printer {
	p, ok := w.Division.Piece(piece)
	for _, printer := range w.Printers {
		if ok && printer.ID == p.Printer {
			return printer
		}
	}
	panic("fit: internal error: piece " + piece.String() + " has no printer")
}

// cavity is the least radius inside a shell between two stations, as printed.
func (w work) cavity(piece model.PieceID, from, to float64) float64 {
	p, _ := w.Division.Piece(piece)
	_, raw := w.partOf(piece)
	return model.LowestBetween(raw.Cavity(p.Direction), max(from, float64(p.Span.From)), min(to, float64(p.Span.To)))
}

func (w work) partOf(piece model.PieceID) (model.Part, model.Raw) {
	for i, part := range w.Parts {
		if part.ID == piece.Part {
			return part, w.Raw[i]
		}
	}
	panic("fit: internal error: no part " + piece.Part)
}

// guessed says which printers nobody measured.
func (w work) guessed() finding.List {
	var found finding.List
	for _, p := range w.Printers {
		if p.Calibrated.Measured {
			continue
		}
		found.Add(finding.New("printer-not-measured", p.At, finding.Args{
			"printer": finding.Name(p.Name),
			"outer":   finding.Fine(p.Calibrated.Outer.U), "bore": finding.Fine(p.Calibrated.Bore.U),
		}))
	}
	return found
}
