package main

import (
	"fmt"
	"math"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/unit"
)

// verdict prints the answer before all others in sentences.
func (f *face) verdict(r job.Result) {
	v := r.Verdict
	s := f.system
	fmt.Fprintf(f.out, "%s\n", r.Name)
	if r.Invented != "" {
		fmt.Fprintf(f.out, "(invented: %s)\n", r.Invented)
	}
	cures := r.Findings.Count(finding.Caution)
	switch cures {
	case 0:
		fmt.Fprintf(f.out, "At %s it can be made.\n", s.Whole(unit.Length(v.Overall.X)))
	default:
		fmt.Fprintf(f.out, "At %s it can be made, after %s.\n", s.Whole(unit.Length(v.Overall.X)), count(cures, "cure"))
	}
	fmt.Fprintf(f.out, "  %s across the body, %s\n", s.Whole(v.Across), count(v.Prints, "print"))
	for _, share := range v.ByPrinter {
		printer, _ := r.Design.Shop.Printer(share.Printer)
		fmt.Fprintf(f.out, "  %s on %s, %.0f printing hours\n", count(share.Prints, "print"), printer.Name, math.Ceil(share.Hours))
	}
	fmt.Fprintf(f.out, "  %.1f kg of filament, %s to buy, about %.0f %s\n", v.Grams.Kilograms(), count(v.Spools, "spool"), v.Money, v.Currency)
	fmt.Fprintf(f.out, "  %.0f printing hours, %.0f bench hours (printing and joining; a guess until you log), planned for %s\n",
		math.Ceil(v.PrintHours), math.Ceil(v.BenchHours), v.Finish)
	fmt.Fprintf(f.out, "  The whole stack goes together unsanded %.0f times in 100.\n", math.Floor(v.Together*100))
	fmt.Fprintf(f.out, "  Largest error at full size ± %s, at station %s.\n", s.Fine(2*v.Error.U), s.Whole(v.Error.Station))
	w := finding.Writer{System: s}
	if len(v.Worst) > 0 {
		fmt.Fprintln(f.out, "What to know first:")
	}
	for _, worst := range v.Worst {
		fmt.Fprintf(f.out, "  %s: %s\n", worst.Severity, w.Message(worst))
		if remedy := w.Remedy(worst); remedy != "" {
			fmt.Fprintf(f.out, "    do: %s\n", remedy)
		}
	}
	if v.Tonight != "" {
		for i, p := range r.Prints {
			if p.Piece.String() == v.Tonight {
				printer, _ := r.Design.Shop.Printer(p.Printer)
				fmt.Fprintf(f.out, "Print this one tonight: %s (%s), %s on %s. No computed cut bounds it and no caution names its part.\n",
					r.Division.Pieces[i].Name, v.Tonight, unit.Duration(p.Minutes), printer.Name)
			}
		}
	}
}
