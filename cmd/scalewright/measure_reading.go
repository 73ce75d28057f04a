package main

import (
	"regexp"
	"strconv"
	"strings"

	"scalewright/stage/readings"
	"scalewright/unit"
)

var readingForms = [...]struct {
	kind readings.Kind
	form *regexp.Regexp
}{
	{readings.Diameter, regexp.MustCompile(`^diameter\s+(.+?)\s+at\s+([0-9.]+)(?:\s*mm)?$`)},
	{readings.Length, regexp.MustCompile(`^length\s+(.+?)\s+from\s+([0-9.]+)(?:\s*mm)?\s+to\s+([0-9.]+)(?:\s*mm)?$`)},
}

// readReading reads what --reading says.
func readReading(text string) (readings.Reading, error) {
	const do = `write it like "diameter 42.02 ± 0.03 mm at 80" or "length 168.1 mm from 0 to 168"; stations in mm`
	for _, f := range readingForms {
		m := f.form.FindStringSubmatch(strings.TrimSpace(text))
		if m == nil {
			continue
		}
		d, err := unit.ParseDim(m[1])
		if err != nil {
			return readings.Reading{}, &usageError{err.Error(), do}
		}
		var at []float64
		for _, s := range m[2:] {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				return readings.Reading{}, &usageError{"the station " + strconv.Quote(s) + " is no number", do}
			}
			at = append(at, x)
		}
		r := readings.Reading{Kind: f.kind, X: d.MM, U: d.U, Text: m[1], Station: at[0]}
		if f.kind == readings.Length {
			r.Station, r.From, r.To = 0, at[0], at[1]
		}
		return r, nil
	}
	return readings.Reading{}, &usageError{"the reading " + strconv.Quote(text) + " is not understood", do}
}
