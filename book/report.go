package book

import (
	"encoding/json"
	"io"
	"math"
	"strconv"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/unit"
)

// ReportJSON writes the report alone, as a run does that a blocker stopped:
// what could not be made is an empty list there.
func ReportJSON(w io.Writer, r job.Result, o Options) error {
	return writeReport(w, r, o, nil)
}

func writeReport(w io.Writer, r job.Result, o Options, solids []printSolid) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(newReport(r, o, solids))
}

// figure is a number as reports hold it: to a millionth, so that machines whose
// last bits differ write the same text.
type figure float64

// MarshalJSON writes the number; null where it is none.
func (f figure) MarshalJSON() ([]byte, error) {
	x := math.Round(float64(f)*1e6) / 1e6
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	if x == 0 {
		x = 0 // no sign
	}
	return strconv.AppendFloat(nil, x, 'f', -1, 64), nil
}

type valueJSON struct {
	Value figure `json:"value"`
	U     figure `json:"u"` // standard uncertainty
}

func valueOf(v unit.Value) valueJSON { return valueJSON{figure(v.X), figure(v.U)} }

// Finding is a finding as reports and answers hold it.
type Finding struct {
	Code     finding.Code     `json:"code"`
	Severity finding.Severity `json:"severity"`
	Stage    string           `json:"stage"`
	Part     string           `json:"part,omitempty"`
	Station  *figure          `json:"station_mm,omitempty"`
	Message  string           `json:"message"`
	Remedy   string           `json:"remedy,omitempty"`
	Args     finding.Args     `json:"args"`
	At       atJSON           `json:"at"`
	Notes    []noteJSON       `json:"notes,omitempty"`
}

type atJSON struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

type noteJSON struct {
	Code    finding.Code `json:"code"`
	Message string       `json:"message"`
	At      atJSON       `json:"at"`
}

// Findings are findings in the words and units of a writer; never nil.
func Findings(list finding.List, w finding.Writer) []Finding {
	at := func(p finding.Place) atJSON {
		q := w.Position(p)
		return atJSON{q.File, q.Line, q.Column}
	}
	out := []Finding{}
	for _, f := range list {
		j := Finding{
			Code: f.Code, Severity: f.Severity, Stage: f.Stage, Part: f.Part,
			Message: w.Message(f), Remedy: w.Remedy(f), Args: f.Args, At: at(f.At),
		}
		if f.HasPlace {
			j.Station = new(figure(f.Station))
		}
		if j.Args == nil {
			j.Args = finding.Args{}
		}
		for _, n := range f.Notes {
			also := finding.Finding{Code: n.Code, Part: f.Part, Station: f.Station, Args: n.Args}
			j.Notes = append(j.Notes, noteJSON{n.Code, w.Message(also), at(n.At)})
		}
		out = append(out, j)
	}
	return out
}
