package book

import (
	"fmt"

	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// writeSlice writes both sides of the test slice as print files.
func writeSlice(w Writer, r job.Result) error {
	if r.Slice == nil {
		return nil
	}
	for _, side := range r.Slice.Sides {
		file := sliceFile(*r.Slice, side)
		piece, _ := r.Division.Piece(side.Piece)
		name := "test slice of " + piece.Name
		if err := writePrint(w, r.Name, file, r.Slice.Seam+"."+sideName(side), name, inSingle(side.Solid)); err != nil {
			return err
		}
	}
	return nil
}

func sliceFile(s model.TestSlice, side model.SliceSide) string {
	return "test-slice/" + s.Seam + "." + sideName(side)
}

func sideName(side model.SliceSide) string {
	if side.Inside {
		return "inside"
	}
	return "outside"
}

// sliceWords say which slice to try first and how it should feel; empty without
// one.
func sliceWords(r job.Result, u unit.System) string {
	s := r.Slice
	if s == nil {
		return ""
	}
	minutes, grams := unit.Minutes(0), unit.Mass(0)
	for _, side := range s.Sides {
		minutes, grams = minutes+side.Minutes, grams+side.Grams
	}
	on := printerName(r, s.Sides[0].Printer)
	if other := printerName(r, s.Sides[1].Printer); other != on {
		on += " and " + other
	}
	// 95 times in 100 a normal value lies within about two standard uncertainties.
	return fmt.Sprintf("the last %s of both sides of %s, %s on %s, %s: they should go together with %s ± %s to spare on the diameter",
		u.Whole(s.Sides[0].Span.Length()), s.Seam, unit.Duration(minutes), on, mass(grams),
		u.Fine(unit.Length(s.Clearance.X)), u.Fine(twice(s.Clearance.U)))
}

type sliceJSON struct {
	Seam      string          `json:"seam"`
	Piece     string          `json:"piece"`
	Clearance valueJSON       `json:"clearance_mm"`
	Sides     []sliceSideJSON `json:"sides"`
}

type sliceSideJSON struct {
	Piece   string   `json:"piece"`
	Inside  bool     `json:"inside"`
	Span    spanJSON `json:"span"`
	Printer string   `json:"printer"`
	Print   figure   `json:"print_mm"` // diameter to print
	Minutes int      `json:"minutes"`
	Mass    figure   `json:"mass_g"`
	STL     string   `json:"stl"`
	ThreeMF string   `json:"threemf"`
}

func reportSlice(s *model.TestSlice) *sliceJSON {
	if s == nil {
		return nil
	}
	return &sliceJSON{
		Seam: s.Seam, Piece: s.Piece.String(), Clearance: valueOf(s.Clearance),
		Sides: each(s.Sides, func(side model.SliceSide) sliceSideJSON {
			return sliceSideJSON{
				Piece: side.Piece.String(), Inside: side.Inside, Span: span(side.Span), Printer: side.Printer,
				Print: figure(side.Size.Nominal), Minutes: int(side.Minutes), Mass: figure(side.Grams),
				STL: sliceFile(*s, side) + ".stl", ThreeMF: sliceFile(*s, side) + ".3mf",
			}
		}),
	}
}
