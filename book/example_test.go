package book_test

import (
	"fmt"
	"os"
	"strings"

	"scalewright/book"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// a result that only holds what a verdict is said from.
func small() job.Result {
	return job.Result{
		Name:   "Lantern finial",
		Fits:   model.Fits{Fits: []model.Fit{{}}},
		Design: model.Design{Shop: model.Shop{Printers: []model.Printer{{ID: "heron", Name: "Heron"}, {ID: "wren", Name: "Wren"}}}},
		Verdict: job.Verdict{
			Overall: unit.Exact(1030), Together: 0.967, Prints: 7, Spools: 2, Money: 44, MoneyFor: []job.Spending{{For: "filament", Amount: 44}}, Currency: "EUR",
			ByPrinter:  []job.PrinterShare{{Printer: "heron", Prints: 4}, {Printer: "wren", Prints: 3}},
			PrintHours: 31.2, BenchHours: 4.5, Likely: "2026-12-09", Safe: "2026-12-12", Error: model.ErrorAt{Station: 320, U: 0.3},
		},
	}
}

func ExampleSay() {
	v := book.Say(small(), unit.Metric)
	fmt.Println(v.Heading)
	fmt.Println(strings.ReplaceAll(v.Words(), "\u00a0", " "))
	fmt.Println(book.Say(small(), unit.FeetInches).Heading)
	// Output:
	// At 1030 mm it can be made.
	// 7 prints on Heron (4) and Wren (3), two spools to buy, 31 printing hours, 4.5 bench hours, about 44 € for filament. Likely done on 9 December 2026, and by 12 December 2026 nine times in ten. The whole stack goes together unsanded 96 times in 100. Largest error at full size: ± 0.6 mm on the radius, 95 times in 100, at station 320 mm.
	// At 3'-4 9/16" it can be made.
}

func ExampleReportJSON() {
	r := job.Result{Name: "Lantern finial", Findings: finding.List{
		finding.New("outline-runs-back", finding.Place{File: "outlines/finial.yaml"}, finding.Args{"at": finding.Size(50)}),
	}}
	var out strings.Builder
	if err := book.ReportJSON(&out, r, book.Options{}); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	_, findings, _ := strings.Cut(out.String(), ` "findings": `)
	fmt.Print(findings)
	// Output:
	// [
	//   {
	//    "code": "outline-runs-back",
	//    "severity": "blocker",
	//    "stage": "outline",
	//    "message": "the outline runs back along the axis at station 50 mm",
	//    "remedy": "give each point a station no less than the one before; an undercut is not turned here",
	//    "args": {
	//     "at_mm": 50
	//    },
	//    "at": {
	//     "file": "outlines/finial.yaml",
	//     "line": 0,
	//     "column": 0
	//    }
	//   }
	//  ]
	// }
}
