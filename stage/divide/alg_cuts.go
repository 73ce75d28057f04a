package divide

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// work is one part being divided.
type work struct {
	part     model.Part
	raw      model.Raw
	core     *model.Core
	printers []model.Printer
	whole    []stretch // where no cut may lie but an accepted one
	guest    bool      // it is mounted on another part
}

// Between corners of the profile a cut may lie on every so many mm.
const cutStep = 2.0

// chooseCuts keeps the accepted cuts and adds what else is needed, cheapest in
// hours. It finds the shortest path through the stations where a cut may lie:
// dynamic programming (Bellman 1957), O(n·k) for k stations within a printer's height.
func (w work) chooseCuts(accepted []model.Cut) ([]model.Cut, finding.List) {
	var found finding.List
	var cuts []model.Cut
	from := float64(w.part.Span.From)
	for _, c := range accepted {
		c.Station = w.atStep(c.Station)
		if c.Station <= w.part.Span.From || c.Station >= w.part.Span.To {
			found.Add(cutOffPart(c, w.part.ID, w.part.Span))
			continue
		}
		more, fault := w.path(from, float64(c.Station))
		found.Add(fault...)
		cuts = append(append(cuts, more...), c)
		from = float64(c.Station)
	}
	more, fault := w.path(from, float64(w.part.Span.To))
	found.Add(fault...)
	cuts = append(cuts, more...)
	number(cuts)
	return cuts, found
}

// atStep is the step of the profile that a cut means: the one within half a layer. A
// cut's station is written to a hundredth of a millimetre and a step lies anywhere,
// so a cut in a step would else leave a rim of the step's other side on its piece,
// thinner than any layer.
func (w work) atStep(at unit.Length) unit.Length {
	near := at
	least := w.leastLayer() / 2
	line := w.raw.Outer
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if a.Station != b.Station || a.Radius == b.Radius {
			continue
		}
		if off := unit.Length(math.Abs(a.Station - float64(at))); off < least {
			least, near = off, unit.Length(a.Station)
		}
	}
	return near
}

// leastLayer of the permitted printers; 0 where there is none.
func (w work) leastLayer() unit.Length {
	if len(w.printers) == 0 {
		return 0
	}
	return slices.MinFunc(w.printers, func(a, b model.Printer) int { return cmp.Compare(a.Layer, b.Layer) }).Layer
}

// number gives provisional cuts their ids: the ordinal in the part, from its
// foot. They can never be mistaken for a maker's id, which begins with a letter.
func number(cuts []model.Cut) {
	n := 0
	for i := range cuts {
		if cuts[i].Provisional {
			n++
			cuts[i].ID = fmt.Sprintf("+%d", n)
		}
	}
}

func cutOffPart(c model.Cut, part string, span model.Span) finding.Finding {
	return finding.New("cut-off-part", c.At, finding.Args{
		"cut": finding.Name(c.ID), "at": finding.Long(c.Station),
		"from": finding.Long(span.From), "to": finding.Long(span.To),
	}).About(part).AtStation(c.Station)
}

// path finds the cheapest cuts strictly between two stations.
func (w work) path(from, to float64) ([]model.Cut, finding.List) {
	at := w.places(from, to)
	n := len(at)
	cost, last := make([]float64, n), make([]int, n)
	high := 0.0 // of the highest printer: no piece is longer
	for _, p := range w.printers {
		high = max(high, float64(p.Build[2]))
	}
	first := 0
	for j := 1; j < n; j++ {
		cost[j] = math.Inf(1)
		for at[j]-at[first] > high {
			first++
		}
		for i := first; i < j; i++ {
			if math.IsInf(cost[i], 1) {
				continue
			}
			if c := cost[i] + w.pieceHours(at[i], at[j], i == 0 && j == n-1) + w.seamHours(at[j]); c < cost[j] {
				cost[j], last[j] = c, i
			}
		}
	}
	if math.IsInf(cost[n-1], 1) {
		return nil, finding.List{w.tooLarge(from, to)}
	}
	var cuts []model.Cut
	for j := last[n-1]; j > 0; j = last[j] {
		cuts = append(cuts, model.Cut{At: w.part.At, Part: w.part.ID, Station: unit.Length(at[j]), Provisional: true})
	}
	slices.Reverse(cuts)
	return cuts, nil
}

// places are the stations where a cut may lie: corners of the profile and a
// grid of cutStep between them, so that a rule finds them; ends included. Beside a
// step none lies, only in it.
func (w work) places(from, to float64) []float64 {
	at := []float64{from, to}
	for z := math.Ceil(from/cutStep) * cutStep; z < to; z += cutStep {
		if z > from {
			at = append(at, z)
		}
	}
	for _, s := range w.part.Outline {
		for _, p := range []model.Point{s.From, s.To} {
			if p.Station > from && p.Station < to {
				at = append(at, p.Station)
			}
		}
	}
	slices.SortFunc(at, cmp.Compare[float64])
	return slices.DeleteFunc(slices.Compact(at), func(z float64) bool {
		return z != from && z != to && (float64(w.atStep(unit.Length(z))) != z || slices.ContainsFunc(w.whole, func(s stretch) bool { return s.from < z && z < s.to }))
	})
}

// tooLarge says why a stretch cannot be made on any permitted printer.
func (w work) tooLarge(from, to float64) finding.Finding {
	widest, where := 0.0, from
	for _, p := range w.raw.Outer {
		if p.Station >= from && p.Station <= to && p.Radius > widest {
			widest, where = p.Radius, p.Station
		}
	}
	room, name := unit.Length(0), "no printer"
	for _, p := range w.printers {
		if bed(p) > room {
			room, name = bed(p), p.Name
		}
	}
	if unit.Length(2*widest) <= room {
		return w.noCutHelps(from, to)
	}
	return finding.New("piece-too-large", w.part.At, finding.Args{
		"across": finding.Size(2 * widest), "printer": finding.Name(name), "room": finding.Size(room),
		"percent": finding.Number(math.Floor(float64(room)/(2*widest)*1000) / 10),
	}).About(w.part.ID).AtStation(unit.Length(where))
}

// noCutHelps says that a stretch is narrow enough, but that the pieces a printer
// is high enough for would be too short to join.
func (w work) noCutHelps(from, to float64) finding.Finding {
	high, name := unit.Length(0), "no printer"
	for _, p := range w.printers {
		if p.Build[2] > high {
			high, name = p.Build[2], p.Name
		}
	}
	spigot := engage(unit.Length(2 * model.HighestBetween(w.raw.Outer, from, to)))
	return finding.New("no-cut-helps", w.part.At, finding.Args{
		"printer": finding.Name(name), "high": finding.Long(high), "need": finding.Long(unit.Length(w.shortest(from, to)) + spigot),
	}).About(w.part.ID).AtStation(unit.Length(from))
}
