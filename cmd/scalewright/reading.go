package main

import (
	"fmt"
	"math"

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

// measured reads PRINTER outer|bore ASKED CAME, or core CAME.
func (c *logCmd) measured(e *model.Event, o *opened) error {
	if len(c.What) > 0 && c.What[0] == "core" {
		return c.measuredCore(e, o)
	}
	if len(c.What) != 4 || c.What[1] != "outer" && c.What[1] != "bore" {
		return &usageError{"a reading takes a printer, outer or bore, the diameter asked for and the one that came", `write it like: measured heron bore "40 mm" "39.8 mm"`}
	}
	if _, ok := o.loaded.Declared.Shop.Printer(c.What[0]); !ok {
		var names []string
		for _, p := range o.loaded.Declared.Shop.Printers {
			names = append(names, p.ID)
		}
		return &usageError{fmt.Sprintf("the shop has no printer %q", c.What[0]), hint(c.What[0], names)}
	}
	asked, err := diameter(c.What[2])
	if err != nil {
		return err
	}
	came, err := diameter(c.What[3])
	if err != nil {
		return err
	}
	if off := math.Abs(came - asked); off > max(mostOff, mostOffShare*asked) {
		return &usageError{fmt.Sprintf("%s for %s is further off than a printer that works", c.What[3], c.What[2]), "read it again"}
	}
	e.Printer, e.What, e.Asked, e.Came = c.What[0], c.What[1], asked, came
	return nil
}

// measuredCore reads the core's widest diameter.
func (c *logCmd) measuredCore(e *model.Event, o *opened) error {
	if len(c.What) != 2 {
		return &usageError{"a reading of the core takes its widest diameter", `write it like: measured core "110.4 mm"`}
	}
	core := o.loaded.Declared.Core
	if core == nil {
		return &usageError{"this build has no core", "declare one first"}
	}
	came, err := diameter(c.What[1])
	if err != nil {
		return err
	}
	pipe, _ := stock.FindPipe(core.Stock)
	spare := max(mostOff, mostOffShare*float64(pipe.OD))
	if came < float64(pipe.OD)-spare || came > float64(pipe.Widest())+spare {
		return &usageError{fmt.Sprintf("%s is not the diameter of a %s", c.What[1], pipe.Name), "read it again, or correct the core's stock"}
	}
	e.What, e.Came = "core", came
	return nil
}

// diameter is a diameter as a caliper shows it, mm.
func diameter(text string) (float64, error) {
	d, err := unit.ParseDim(text)
	if err != nil {
		return 0, &usageError{err.Error(), `write it like "39.8 mm"`}
	}
	if d.Owner == unit.OfReference || d.MM <= 0 {
		return 0, &usageError{fmt.Sprintf("%q is not a diameter that a caliper shows", text), `write it like "39.8 mm"`}
	}
	return d.MM, nil
}
