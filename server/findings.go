package server

import (
	"math"
	"strconv"

	"scalewright/finding"
	"scalewright/lane"
	"scalewright/unit"
)

// findingsOf puts findings of a result into words; never nil.
func findingsOf(s *shown, list finding.List, system unit.System) []Finding {
	w := finding.Writer{System: system, Locate: s.loaded.Locate}
	out := []Finding{}
	seen := map[string]int{}
	for _, f := range list {
		j := findingOf(f, w)
		if seen[j.ID]++; seen[j.ID] > 1 {
			j.ID += "-" + strconv.Itoa(seen[j.ID])
		}
		out = append(out, j)
	}
	return out
}

func findingOf(f finding.Finding, w finding.Writer) Finding {
	at := w.Position(f.At)
	entry := finding.About(f.Code)
	out := Finding{
		ID: lane.FlagID(f), Code: string(f.Code), Severity: f.Severity.String(), Stage: f.Stage, Part: f.Part,
		Message: w.Message(f), Remedy: w.Remedy(f), File: f.At.File, Path: f.At.Path, Line: at.Line,
		Lane: laneOf(f.Stage), Also: []string{}, Cures: []Cure{}, When: entry.When, Rule: entry.Rule,
	}
	if x := float64(f.Station); f.HasPlace && !math.IsNaN(x) && !math.IsInf(x, 0) {
		out.Station = new(hundredth(x))
	}
	for _, n := range f.Notes {
		out.Also = append(out.Also, w.Message(finding.Finding{Code: n.Code, Part: f.Part, Station: f.Station, Args: n.Args}))
	}
	if e := f.Edit; e != nil {
		out.Cures = append(out.Cures, Cure{Says: out.Remedy, Changes: []Change{{Op: "put", At: Place{e.At.File, e.At.Path}, Text: e.Text}}})
	}
	return out
}

// laneOf is the lane that shows what a stage says.
func laneOf(stage string) string {
	switch stage {
	case "fit", "testslice":
		return "fits"
	case "shape", "carve", "inspect", "printing":
		return "walls"
	case "structure":
		return "weight"
	case "finishing":
		return "finish"
	case "effects":
		return "lights"
	case "place", "assembly":
		return "elevation"
	case "divide", "mend", "facts":
		return "pieces"
	case "measure", "outline":
		return "error"
	}
	return ""
}
