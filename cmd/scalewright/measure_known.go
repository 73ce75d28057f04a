package main

import (
	"regexp"
	"strconv"
	"strings"

	"scalewright/finding"
	"scalewright/stage/measure"
	"scalewright/unit"
)

var knownForm = regexp.MustCompile(`^(.+?)\s+from\s+([0-9.]+)\s*,\s*([0-9.]+)\s+to\s+([0-9.]+)\s*,\s*([0-9.]+)(?:\s+above\s+(.+)|\s+(on axis))?$`)

// readKnown reads what --known-length says.
func readKnown(text string) (*measure.KnownLength, error) {
	const do = `write it like "150 ± 0.1 mm from 812,1404 to 1190,1400", with "above 1 mm" or "on axis" behind where wanted`
	m := knownForm.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return nil, &usageError{"the known length " + strconv.Quote(text) + " is not understood", do}
	}
	d, err := unit.ParseDim(m[1])
	if err != nil {
		return nil, &usageError{err.Error(), do}
	}
	k := &measure.KnownLength{Length: unit.Estimate(d.MM, d.U), OnAxis: m[7] != "", At: finding.Place{File: "--known-length"}}
	for i, into := range []*float64{&k.From[0], &k.From[1], &k.To[0], &k.To[1]} {
		if *into, err = strconv.ParseFloat(m[2+i], 64); err != nil {
			return nil, &usageError{"the pixel " + strconv.Quote(m[2+i]) + " is no number", do}
		}
	}
	if m[6] != "" {
		above, err := unit.ParseDim(m[6])
		if err != nil {
			return nil, &usageError{err.Error(), do}
		}
		k.HeightMM = above.MM
	}
	return k, nil
}
