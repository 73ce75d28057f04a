package build

import (
	"cmp"
	"maps"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// A printer that nobody calibrated: outer diameters come out as asked, bores a
// little small, each give or take two or three tenths (common practice; a guess
// that only a test piece replaces). The doubts are standard uncertainties.
const (
	guessedOuter, guessedOuterDoubt = 0.0, 0.15
	guessedBore, guessedBoreDoubt   = -0.2, 0.15
)

// checkShop makes a shop of a shop file.
func checkShop(raw shopFile) (model.Shop, finding.List) {
	c := checker{file: ShopFile}
	out := model.Shop{Currency: string(raw.Currency), HourPrice: raw.HourPrice}
	for _, id := range slices.Sorted(maps.Keys(raw.Printers)) {
		out.Printers = append(out.Printers, c.printer(id, raw.Printers[id]))
	}
	for _, id := range slices.Sorted(maps.Keys(raw.Filaments)) {
		out.Filaments = append(out.Filaments, filament(id, raw.Filaments[id]))
	}
	for _, id := range slices.Sorted(maps.Keys(raw.People)) {
		out.People = append(out.People, c.person(id, raw.People[id]))
	}
	if p := raw.Paper; p != nil {
		out.Paper = model.Paper{Short: full(p.Short), Long: full(p.Long), Thick: full(p.Thick)}
		if p.Size != nil {
			out.Paper.Size = model.PaperSize(*p.Size)
		}
	}
	return out, c.found
}

func (c *checker) printer(id string, raw printerFile) model.Printer {
	p := model.Printer{
		ID: id, Name: cmp.Or(raw.Name, id), At: c.at(join("printers", id)),
		Margin: full(raw.Margin), Nozzle: full(raw.Nozzle), Layer: full(raw.Layer), Line: full(raw.Line),
		Speed: raw.Speed, Accel: raw.Accel, Flow: raw.Flow, WarmUp: unit.Minutes(raw.WarmUp),
		Calibrated: calibration(id, raw.Calibration),
	}
	for i, d := range raw.Build {
		p.Build[i] = full(d)
	}
	for _, d := range raw.Build[:2] {
		if d.Written() && full(d) <= 2*p.Margin {
			c.found.Add(finding.New("margin-eats-platform", c.at(join(string(p.At.Path), "margin")), finding.Args{
				"margin": finding.Name(raw.Margin.Text), "side": finding.Name(d.Text),
			}))
			break
		}
	}
	return p
}

// full is a dimension of the shop at full size, which it already is.
func full(d shopDimension) unit.Length { return d.At(1) }

// calibration names each offset as a source of its own: all pieces of a printer
// share it.
func calibration(printer string, raw *calibrationFile) model.Calibration {
	shared := func(x, u float64, which string) unit.Value {
		return unit.Estimate(x, 0, unit.Source{Name: "printer " + printer + " " + which, U: u})
	}
	if raw == nil {
		return model.Calibration{
			Outer: shared(guessedOuter, guessedOuterDoubt, "outer"),
			Bore:  shared(guessedBore, guessedBoreDoubt, "bore"),
		}
	}
	return model.Calibration{
		Outer:    shared(raw.Outer.MM, raw.Outer.U, "outer"),
		Bore:     shared(raw.Bore.MM, raw.Bore.U, "bore"),
		Measured: true,
	}
}

func filament(id string, raw filamentFile) model.Filament {
	f := model.Filament{
		ID: id, Name: cmp.Or(raw.Name, id), Material: string(raw.Material),
		Spool: unit.Mass(raw.Spool), Price: raw.Price, OnHand: unit.Mass(raw.OnHand),
	}
	if m, ok := stock.FindMaterial(f.Material); ok {
		f.Density = m.Density
	}
	if raw.Density != nil {
		f.Density = *raw.Density
	}
	return f
}

// person's hours come out sorted, with openings that touch or overlap joined.
func (c *checker) person(id string, raw personFile) model.Person {
	p := model.Person{ID: id, Name: cmp.Or(raw.Name, id)}
	var open []model.OpenTime
	for i, h := range raw.Hours {
		path := item(join(join("people", id), "hours"), i)
		if !h.From.written || !h.To.written {
			continue // it has a finding already
		}
		if h.To.minutes <= h.From.minutes {
			c.found.Add(finding.New("hours-run-back", c.at(join(path, "to")), nil))
			continue
		}
		for _, day := range h.Days {
			midnight := unit.Minutes(slices.Index(week, string(day)) * 24 * 60)
			open = append(open, model.OpenTime{From: midnight + h.From.minutes, To: midnight + h.To.minutes})
		}
	}
	slices.SortFunc(open, func(a, b model.OpenTime) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	for _, o := range open {
		if n := len(p.Hours); n > 0 && o.From <= p.Hours[n-1].To {
			p.Hours[n-1].To = max(p.Hours[n-1].To, o.To)
			continue
		}
		p.Hours = append(p.Hours, o)
	}
	return p
}
