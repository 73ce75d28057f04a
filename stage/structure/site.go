package structure

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// warmest is how warm the build itself gets, °C.
func (in Input) warmest() float64 {
	return in.Site.Warmest + map[model.Sun]float64{model.WindowSun: sunWindow, model.OpenSun: sunOpen}[in.Site.Sun]
}

// warm says what softens where the build lives.
func (in Input) warm() finding.List {
	var found finding.List
	warmest := in.warmest()
	soften := func(at finding.Place, what string, limit float64, others []string) {
		if warmest > limit {
			found.Add(finding.New("too-warm", at, finding.Args{
				"what": finding.Name(what), "warm": finding.Number(warmest), "limit": finding.Number(limit), "others": finding.Names(others...),
			}))
		}
	}
	var filaments, glueing []string // that bear it
	for _, m := range stock.Materials() {
		if m.Tg-warmGuard >= warmest {
			filaments = append(filaments, m.Name)
		}
	}
	for _, g := range stock.Glues() {
		if g.Soft >= warmest {
			glueing = append(glueing, g.Name)
		}
	}
	used := map[string]bool{}
	for _, p := range in.Division.Pieces {
		used[p.Filament] = true
	}
	for _, f := range in.Filaments {
		if material, ok := stock.FindMaterial(f.Material); ok && used[f.ID] {
			soften(in.Site.At, f.Material, material.Tg-warmGuard, filaments)
		}
	}
	if in.Core != nil {
		soften(in.Core.At, in.Core.Stock.Name, in.Core.Stock.Substance().Soft, coresThatBear(warmest))
	}
	glues := map[string]bool{}
	for _, s := range in.Division.Seams {
		if !s.Removable {
			glues[stock.GlueFor(s.Glue).ID] = true
		}
	}
	for _, m := range in.Mounts {
		if !m.Removable {
			glues[stock.GlueFor(m.Glue).ID] = true
		}
	}
	for _, g := range stock.Glues() {
		if glues[g.ID] {
			soften(in.Site.At, g.Name, g.Soft, glueing)
		}
	}
	return found
}

// coresThatBear are the substances of the table that bear a temperature.
func coresThatBear(warmest float64) []string {
	var out []string
	for _, s := range stock.Substances() {
		if s.Soft >= warmest {
			out = append(out, s.Name)
		}
	}
	return out
}
