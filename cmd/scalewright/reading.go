package main

import (
	"scalewright/job"
	"scalewright/model"
)

// measured reads PRINTER outer|bore ASKED CAME, or core CAME.
func (c *logCmd) measured(e *model.Event, o *opened) error {
	shop, core := o.loaded.Declared.Shop, ""
	if o.loaded.Declared.Core != nil {
		core = o.loaded.Declared.Core.Stock
	}
	switch {
	case len(c.What) > 0 && c.What[0] == "core":
		if len(c.What) != 2 {
			return &usageError{"a reading of the core takes its widest diameter", `write it like: measured core "110.4 mm"`}
		}
		return usageOf(job.Reading(e, shop, core, "core", "", c.What[1]))
	case len(c.What) != 4:
		return usageOf(job.Reading(e, shop, core, "", "", ""))
	}
	e.Printer = c.What[0]
	return usageOf(job.Reading(e, shop, core, c.What[1], c.What[2], c.What[3]))
}
