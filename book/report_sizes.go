package book

import "scalewright/model"

type sizeJSON struct {
	Ratio      figure         `json:"ratio"`
	Because    string         `json:"because"`
	What       string         `json:"what,omitempty"`
	Length     figure         `json:"length_mm"`
	Pieces     int            `json:"pieces"`
	Hours      figure         `json:"hours"`
	BenchHours figure         `json:"bench_hours"`
	Mass       figure         `json:"mass_g"`
	Cost       figure         `json:"cost"`
	Likely     string         `json:"finish_p50"`
	Safe       string         `json:"finish_p90"`
	Stock      []stockGapJSON `json:"stock"`
	Blocked    string         `json:"blocked,omitempty"`
	Best       []string       `json:"best_of"`
}

type stockGapJSON struct {
	Feature string `json:"feature"`
	Stock   string `json:"stock"`
	Gap     figure `json:"gap_mm"`
}

// Sizes are candidates as scalewright sizes and report.json give them.
func Sizes(all []model.Candidate) []sizeJSON {
	return each(all, func(c model.Candidate) sizeJSON {
		return sizeJSON{
			Ratio: figure(c.Ratio), Because: c.Because, What: c.What, Length: figure(c.Length), Pieces: c.Pieces, Hours: figure(c.Hours),
			BenchHours: figure(c.BenchHours), Mass: figure(c.Mass), Cost: figure(c.Cost), Likely: c.Likely, Safe: c.Safe,
			Stock:   each(c.Stock, func(g model.StockGap) stockGapJSON { return stockGapJSON{g.Feature, g.Stock, figure(g.Gap)} }),
			Blocked: c.Blocked, Best: append([]string{}, c.Best...),
		}
	})
}
