package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"scalewright/solid"
)

type meshRepairCmd struct {
	File        string  `arg:"" help:"Mesh file: STL, 3MF or OBJ."`
	Out         string  `short:"o" help:"File for the solid." required:""`
	Near        float64 `help:"Merge open edges up to this many millimetres apart; as little as closes it if not given."`
	LargestHole float64 `help:"Close holes up to this share, 0 to 1, of the shell they are in; a quarter if not given."`
	Strict      bool    `help:"Refuse a surface that passes through itself."`
	JSON        bool    `name:"json" help:"Print one JSON object (it is always printed; for symmetry)."`
}

// repairReport is what mesh repair says.
type repairReport struct {
	meshReport
	Changes []repairChange `json:"changes"`
}

// repairChange is all that was done of one kind.
type repairChange struct {
	Kind  string    `json:"kind"`
	Count int       `json:"count"`
	First solid.Vec `json:"first_mm"`
	Size  float64   `json:"size_mm,omitempty"`
}

func (c *meshRepairCmd) Run(ctx context.Context, f *face) error {
	began := time.Now()
	if err := mayWriteMesh(c.Out); err != nil {
		return err
	}
	m, err := readMesh(ctx, c.File)
	if err != nil {
		return err
	}
	kernel, done := f.kernel()
	out, changes, err := kernel.Repair(ctx, m, solid.RepairOptions{Near: c.Near, LargestHole: c.LargestHole, Strict: c.Strict})
	done()
	if beyond, ok := errors.AsType[*solid.RepairError](err); ok {
		fmt.Fprintf(f.talk, "scalewright: %s: %v\n    do: %s\n", c.File, beyond, repairRemedy(beyond.Reason))
		return errBlocked
	}
	if err != nil {
		return refused(c.File, "cannot be repaired", err)
	}
	if err := f.writeResult(c.Out, out); err != nil {
		return err
	}
	r := repairReport{meshReport: reportOf(out, began), Changes: []repairChange{}}
	for _, change := range changes {
		r.Changes = append(r.Changes, repairChange{change.Kind.String(), change.Count, change.At, change.Size})
	}
	return printJSON(f.out, r)
}

// repairRemedy is what the maker can do where the program can't.
func repairRemedy(reason solid.RefusalReason) string {
	switch reason {
	case solid.NothingLeft:
		return "export the model as a closed body, not as a sheet or points"
	case solid.CoordinateLarge:
		return "scale it down where it came from; lengths are millimetres"
	case solid.OpenSurface:
		return "give the surface a thickness or close it where it was drawn, or let larger holes be closed with --largest-hole"
	case solid.OneSided:
		return "give the surface a thickness where it was drawn"
	case solid.SelfCrossing:
		return "leave out --strict, or unite its bodies where they were drawn"
	default:
		return "mend that place where it was drawn"
	}
}
