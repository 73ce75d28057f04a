package propose_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"scalewright/model"
	"scalewright/stage/propose"
	"scalewright/unit"
)

// spool is a cylinder of 20 mm, 60 long, between flanges of 40.
func spool() propose.Input {
	return propose.Input{
		Outline: model.Lines(0, 20, 10, 20, 10, 10, 70, 10, 70, 20, 80, 20), Ratio: 5,
		Printers: []model.Printer{{ID: "wren", Name: "Wren", Build: [3]unit.Length{220, 220, 250}, Margin: 5}},
	}
}

func ExampleRun() {
	all, _, _ := propose.Run(context.Background(), spool())
	for _, p := range all {
		fmt.Println(strings.TrimSpace(fmt.Sprintf("%.3f %s %s", p.Ratio, p.Because, p.What)))
	}
	// Output:
	// 3.500 round
	// 4.005 stock drain-160
	// 4.445 stock nps-3
	// 4.508 stock pressure-90
	// 5.000 declared
	// 5.197 printer Wren
	// 5.508 stock drain-110
	// 5.715 stock nps-4
	// 6.258 stock drain-125
}

// At a ratio that stock proposes the cylinder is the pipe's mean outside.
func TestStockMeetsTheCylinder(t *testing.T) {
	all, _, _ := propose.Run(context.Background(), spool())
	for _, p := range all {
		if p.What == "drain-110" && math.Abs(20*p.Ratio-110.15) > 1e-9 {
			t.Errorf("at %v the cylinder is %v, the pipe 110.15", p.Ratio, 20*p.Ratio)
		}
	}
}

// At the core's ratio its widest and two walls go into the slimmest place.
func TestCoreGoesThrough(t *testing.T) {
	in := spool()
	in.Core = &model.DeclaredCore{Stock: "pressure-75", From: unit.Ref(0), To: unit.Ref(80)}
	// The slim wall is where there is room; the thick one where it is narrow.
	in.Walls = []propose.Wall{{From: 0, To: 10, Thick: 1}, {From: 10, To: 70, Thick: 3}, {From: 70, To: 80, Thick: 9}}
	all, _, _ := propose.Run(context.Background(), in)
	found := false
	for _, p := range all {
		if p.Because == "core" {
			found = 20*p.Ratio > 76.1+6 && 20*p.Ratio < 76.1+6+4
		}
	}
	if !found {
		t.Errorf("proposals %v", all)
	}
}

func TestNothingToPropose(t *testing.T) {
	if all, _, err := propose.Run(context.Background(), propose.Input{Ratio: 6}); err != nil || len(all) != 1 || all[0].Ratio != 6 {
		t.Errorf("%v, %v", all, err)
	}
}
