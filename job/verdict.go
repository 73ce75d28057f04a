package job

import (
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Verdict is the answer before all others: what it takes, what will go wrong,
// what to print tonight. Its totals are sums of what stands in the result.
type Verdict struct {
	Overall    unit.Value     `json:"overall_mm"`
	Across     unit.Length    `json:"across_mm"`
	Prints     int            `json:"prints"`
	ByPrinter  []PrinterShare `json:"by_printer"`
	Grams      unit.Mass      `json:"mass_g"`
	Spools     int            `json:"spools"`
	Money      float64        `json:"money"`
	MoneyFor   []Spending     `json:"money_for"` // what Money is the sum of
	Currency   string         `json:"currency"`
	PrintHours float64        `json:"print_hours"`
	BenchHours float64        `json:"bench_hours"`
	Finish     string         `json:"finish"`
	Likely     string         `json:"likely"`
	Safe       string         `json:"safe"`
	Together   float64        `json:"together"`
	Error      model.ErrorAt  `json:"largest_error"`
	Tonight    string         `json:"tonight,omitempty"` // a piece's id
	Worst      finding.List   `json:"-"`                 // what stands in the way, then what may go wrong
}

// PrinterShare is what one printer is asked to do.
type PrinterShare struct {
	Printer string  `json:"printer"`
	Prints  int     `json:"prints"`
	Hours   float64 `json:"hours"`
}

// Spending is what money is needed for.
type Spending struct {
	For    string  `json:"for"`
	Amount float64 `json:"amount"`
}

// How many findings the verdict names.
const worstNamed = 3

func verdict(r Result) Verdict {
	v := Verdict{
		Overall: r.Enlarge.Length, Error: r.Design.Error, Together: r.Fits.Together,
		Prints: len(r.Prints), Currency: r.Design.Shop.Currency, Finish: r.Calendar.Finish, Likely: r.Calendar.Likely, Safe: r.Calendar.Safe,
		Across:     unit.Length(2 * r.Design.Outline.MaxRadius()),
		BenchHours: r.Calendar.Bench.Hours(),
	}
	if len(r.Design.Outline) == 0 {
		v.Overall, v.Across = sizeOf(r, v.Overall)
	}
	used := map[string]unit.Mass{} // by filament
	for _, printer := range r.Design.Shop.Printers {
		share := PrinterShare{Printer: printer.ID}
		for i, p := range r.Prints {
			if p.Printer == printer.ID {
				share.Prints++
				share.Hours += p.Minutes.Hours()
				v.Grams += p.Grams
				used[r.Division.Pieces[i].Filament] += p.Grams
			}
		}
		v.PrintHours += share.Hours
		v.ByPrinter = append(v.ByPrinter, share)
	}
	filament := 0.0
	for _, f := range r.Design.Shop.Filaments {
		n := math.Ceil(float64(max(0, used[f.ID]-f.OnHand)) / float64(f.Spool))
		v.Spools += int(n)
		filament += n * f.Price
	}
	v.spend("filament", filament)
	if r.Finishing.Currency == v.Currency { // its prices are not converted
		v.spend("finish", r.Finishing.Money)
	}
	v.spend("bench hours", v.BenchHours*r.Design.Shop.HourPrice)
	v.Tonight = tonight(r, r.Findings)
	v.Worst = worst(r)
	return v
}

func (v *Verdict) spend(what string, amount float64) {
	if amount > 0 {
		v.MoneyFor = append(v.MoneyFor, Spending{what, amount})
		v.Money += amount
	}
}

// worst are the first blockers and cautions, one of each kind, then what may go
// wrong although nothing is wrong yet.
func worst(r Result) finding.List {
	var out finding.List
	var all finding.List
	for _, f := range r.Findings {
		if f.Severity > finding.Note {
			all.Add(f)
		}
	}
	for _, risk := range r.Risks {
		all.Add(risk.What)
	}
	for _, f := range all {
		same := slices.ContainsFunc(out, func(g finding.Finding) bool { return g.Code == f.Code })
		if !same && len(out) < worstNamed {
			out.Add(f)
		}
	}
	return out
}
