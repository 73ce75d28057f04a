package job

import (
	"errors"
	"fmt"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// A reading this far from what was asked, or from the stock table, was misread or
// mistyped: mm on the diameter, and a share of it. Common practice.
const (
	mostOff      = 2.0
	mostOffShare = 0.02
)

// Reading fills in what was measured: outer or bore of a printer's test piece, or the
// core's widest diameter. An error that the maker can mend is a [Refused].
func Reading(e *model.Event, shop model.Shop, core, what, asked, came string) error {
	if what == "core" {
		return readCore(e, core, came)
	}
	if what != "outer" && what != "bore" {
		return &Refused{"a reading takes a printer, outer or bore, the diameter asked for and the one that came", `write it like: measured heron bore "40 mm" "39.8 mm"`}
	}
	if _, ok := shop.Printer(e.Printer); !ok {
		var names []string
		for _, p := range shop.Printers {
			names = append(names, p.ID)
		}
		return &Refused{fmt.Sprintf("the shop has no printer %q", e.Printer), hint(e.Printer, names)}
	}
	wanted, err := diameter(asked)
	if err != nil {
		return err
	}
	got, err := diameter(came)
	if err != nil {
		return err
	}
	if off := math.Abs(got - wanted); off > max(mostOff, mostOffShare*wanted) {
		return &Refused{fmt.Sprintf("%s for %s is further off than a printer that works", came, asked), "read it again"}
	}
	e.What, e.Asked, e.Came = what, wanted, got
	return nil
}

// readCore reads the core's widest diameter.
func readCore(e *model.Event, core, came string) error {
	if core == "" {
		return &Refused{"this build has no core", "declare one first"}
	}
	got, err := diameter(came)
	if err != nil {
		return err
	}
	pipe, _ := stock.FindPipe(core)
	spare := max(mostOff, mostOffShare*float64(pipe.OD))
	if got < float64(pipe.OD)-spare || got > float64(pipe.Widest())+spare {
		return &Refused{fmt.Sprintf("%s is not the diameter of a %s", came, pipe.Name), "read it again, or correct the core's stock"}
	}
	e.What, e.Came, e.Printer = "core", got, ""
	return nil
}

// diameter is a diameter as a caliper shows it, mm.
func diameter(text string) (float64, error) {
	d, err := unit.ParseDim(text)
	if err != nil {
		if wrong, ok := errors.AsType[*unit.DimError](err); ok {
			return 0, &Refused{wrong.Error(), `write it like "39.8 mm"`}
		}
		return 0, err
	}
	if d.Owner == unit.OfReference || d.MM <= 0 {
		return 0, &Refused{fmt.Sprintf("%q is not a diameter that a caliper shows", text), `write it like "39.8 mm"`}
	}
	return d.MM, nil
}

func hint(name string, known []string) string {
	if near := finding.Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %s?", near)
	}
	return "known here: " + string(finding.Names(known...))
}
