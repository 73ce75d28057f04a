package divide

import (
	"cmp"
	"math"
	"slices"

	"scalewright/model"
	"scalewright/unit"
)

// permitted are the printers that a part may be made on: all, if it names none.
func permitted(part model.Part, printers []model.Printer) []model.Printer {
	if len(part.Printers) == 0 {
		return printers
	}
	var out []model.Printer
	for _, p := range printers {
		if slices.Contains(part.Printers, p.ID) {
			out = append(out, p)
		}
	}
	return out
}

// balance gives each piece its printer: longest first, each to the permitted
// printer that would finish it soonest (longest processing time rule, Graham
// 1969, whose bound of a third over the best is for machines that are alike).
func balance(in Input, d model.Division) {
	type choice struct {
		piece int
		hours []float64 // by printer; negative where it does not fit
	}
	var choices []choice
	for i, p := range d.Pieces {
		allowed, hoursOn := estimate(in, p)
		c := choice{piece: i}
		for _, printer := range in.Printers {
			hours := -1.0
			if slices.ContainsFunc(allowed, func(q model.Printer) bool { return q.ID == printer.ID }) {
				hours = hoursOn(printer)
			}
			if hours >= 0 {
				hours = max(hours*countedSpare, in.Told[p.ID.String()].Hours())
			}
			c.hours = append(c.hours, hours)
		}
		choices = append(choices, c)
	}
	slices.SortStableFunc(choices, func(a, b choice) int { return cmp.Compare(slices.Max(b.hours), slices.Max(a.hours)) })
	load := make([]float64, len(in.Printers))
	for _, c := range choices {
		best := -1
		for k, hours := range c.hours {
			if hours >= 0 && (best < 0 || load[k]+hours < load[best]+c.hours[best]) {
				best = k
			}
		}
		load[best] += c.hours[best]
		d.Pieces[c.piece].Printer = in.Printers[best].ID
		// On whichever printer it ends up, so that moving a piece breaks no count.
		d.Pieces[c.piece].Counted = unit.Minutes(math.Ceil(60 * slices.Max(c.hours)))
	}
}

// estimate is which printers a piece may be made on, and what laying it takes
// there.
func estimate(in Input, p model.Piece) ([]model.Printer, func(model.Printer) float64) {
	if p.ID.Kind == model.Panel {
		return workOf(in, p.ID.Part).printers, func(printer model.Printer) float64 { return panelHours(in, p, printer) }
	}
	if p.ID.Kind == model.Bush {
		return workOf(in, p.ID.Part).printers, func(printer model.Printer) float64 { return bushHours(in, p, printer) }
	}
	if p.ID.Kind == model.Slice {
		i := slices.IndexFunc(in.Parts, func(q model.Part) bool { return q.ID == p.ID.Part })
		s := sliceOf(in, i)
		size := s.sizeOf(float64(p.Span.From), float64(p.Span.To))
		return s.printers, func(printer model.Printer) float64 { return s.hoursOn(printer, p, size) }
	}
	w := workOf(in, p.ID.Part)
	return w.printers, func(printer model.Printer) float64 { return w.hoursOn(printer, p) }
}

// hoursOn is what laying a piece takes on a printer; negative where it does not
// fit.
func (w work) hoursOn(p model.Printer, piece model.Piece) float64 {
	from, to := float64(piece.Span.From), float64(piece.Span.To)
	across := 2 * w.insideAt(piece)
	laid := 0.0
	switch piece.ID.Kind {
	case model.Shell:
		if !w.fits(p, from, to) {
			return -1
		}
		laid = w.volume(from, to) + w.filling(from, to)
	case model.CollarRing:
		laid = math.Pi * across * float64(w.part.Wall) * (to - from)
	case model.CoreRing:
		laid = math.Pi / 4 * across * across * (to - from) * discFilled
	}
	if piece.ID.Kind != model.Shell && unit.Length(across) > bed(p) {
		return -1
	}
	return laid/rate(p)/3600 + p.WarmUp.Hours()
}

// filling is what a bored piece lays between its wall and the core.
func (w work) filling(from, to float64) float64 {
	if w.core == nil || w.core.Hold != model.Bored {
		return 0
	}
	from, to = max(from, float64(w.core.Span.From)), min(to, float64(w.core.Span.To))
	if from >= to {
		return 0
	}
	wall := float64(w.part.Wall)
	out, in := model.HighestBetween(w.raw.Outer, from, to)-wall, float64(w.core.Stock.OD)/2
	return max(0, math.Pi*(out*out-in*in)*(to-from)*discFilled) + 2*math.Pi*in*wall*(to-from)
}

// insideAt is a radius that a collar or ring surely fits in.
func (w work) insideAt(piece model.Piece) float64 {
	return model.LowestBetween(w.raw.Outer, float64(piece.Span.From), float64(piece.Span.To))
}

func workOf(in Input, part string) work {
	for i, p := range in.Parts {
		if p.ID == part {
			w := work{
				part: p, raw: in.Raw[i], core: in.Core, printers: permitted(p, in.Printers), whole: keptWhole(in, p),
				guest: slices.ContainsFunc(in.Mounts, func(m model.Mount) bool { return m.Guest == p.ID }),
			}
			if !p.OnBody() {
				w.core = nil // the core runs along the body's axis only
			}
			return w
		}
	}
	panic("divide: internal error: no part " + part)
}
