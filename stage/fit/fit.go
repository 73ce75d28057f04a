package fit

import (
	"context"
	"math"

	"scalewright/craft/tolerance"
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
	out.Fits = append(out.Fits, w.through()...)
	for _, t := range in.Division.Tabs {
		out.Fits = append(out.Fits, w.tab(t))
	}
	for _, v := range in.Division.Windows {
		if v.Panel != (model.PieceID{}) {
			out.Fits = append(out.Fits, w.panel(v))
		}
	}
	out.Fits = append(out.Fits, w.bushes()...)
	out.Holes = w.holes()
	out.Together = together(out.Fits, in.Seed)
	found.Add(w.guessed(out.Fits)...)
	return out, found, nil
}

type work struct{ Input }

// side is one printed diameter: as asked, and as it comes out.
func (w work) side(piece model.PieceID, asked float64, bore bool) model.Size {
	actual := w.offset(piece, asked, bore).Add(unit.Exact(asked))
	return model.Size{Nominal: unit.Length(asked), Actual: actual}
}

// offset is how far a diameter of about that size comes out from what was asked.
func (w work) offset(piece model.PieceID, about float64, bore bool) unit.Value {
	printer := w.printerOf(piece)
	c := printer.Calibrated
	off, read, name := c.Outer, c.OuterRead, printer.ID+" outer"
	if bore {
		off, read, name = c.Bore, c.BoreRead, printer.ID+" bore"
	}
	if !c.Measured && !read {
		off.U = guess(about)
	}
	return unit.Estimate(off.X, scatter, unit.Source{Name: name, U: off.U})
}

// guess is the standard uncertainty of what a printer nobody measured makes of a
// diameter: anywhere within IT13 alike, so half its width over √3 (JCGM
// 100:2008, 4.3.7).
func guess(diameter float64) float64 {
	return float64(tolerance.Width(unit.Length(diameter), guessedGrade)) / 2 / math.Sqrt(3)
}

// pair sizes the male side to the female.
func (w work) pair(male, female model.PieceID, bore, least float64) model.Fit {
	b := w.side(female, bore, true)
	play := b.Actual.Sub(w.offset(male, bore, false))
	asked := play.X - least - spare*play.U
	m := w.side(male, math.Floor(asked*100)/100, false)
	return finish(model.Fit{Male: male.String(), Female: female.String(), MaleSize: m, Bore: b}, MostLoose)
}

// sized is pair where neither side is made; a made side keeps its size, and the
// other follows it.
func (w work) sized(seam string, male, female model.PieceID, bore, least float64) model.Fit {
	made, isMade := w.kept(female).Outside[seam]
	if isMade {
		bore = float64(made)
	}
	f := w.pair(male, female, bore, least)
	given, isGiven := w.kept(male).Inside[seam]
	if !isGiven {
		return f
	}
	f.MaleSize = w.side(male, float64(given), false)
	if !isMade {
		play := w.offset(female, float64(given), true).Sub(f.MaleSize.Actual)
		f.Bore = w.side(female, math.Ceil((least+spare*play.U-play.X)*100)/100, true)
	}
	return finish(f, MostLoose)
}

// kept is what made/ holds of a piece; nothing where it is not made.
func (w work) kept(piece model.PieceID) model.Kept {
	for _, k := range w.Kept {
		if k.Piece == piece.String() {
			return k
		}
	}
	return model.Kept{}
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

// guessed says which printers that make a fitted diameter nobody measured, with
// the guess at the largest such diameter.
func (w work) guessed(fits []model.Fit) finding.List {
	widest := map[string]unit.Length{} // by printer
	largest := func(piece string, d unit.Length) {
		for _, p := range w.Division.Pieces {
			if p.ID.String() == piece {
				widest[p.Printer] = max(widest[p.Printer], d)
			}
		}
	}
	for _, f := range fits {
		largest(f.Male, f.MaleSize.Nominal)
		largest(f.Female, f.Bore.Nominal)
	}
	var found finding.List
	for _, p := range w.Printers {
		d := widest[p.ID]
		if p.Calibrated.Measured || d == 0 {
			continue
		}
		found.Add(finding.New("printer-not-measured", p.At, finding.Args{
			"printer": finding.Name(p.Name), "across": finding.Size(d),
			"half": finding.Fine(tolerance.Width(d, guessedGrade) / 2),
		}))
	}
	return found
}
