package main

import (
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/stage/measure"
	"scalewright/unit"
)

func TestReadKnown(t *testing.T) {
	at := finding.Place{File: "--known-length"}
	for text, want := range map[string]measure.KnownLength{
		"150 ± 0.1 mm from 812,1404 to 1190,1400.5":      {From: [2]float64{812, 1404}, To: [2]float64{1190, 1400.5}, Length: unit.Estimate(150, 0.1), At: at},
		" 6 in from 8 , 14 to 1190, 1400 above 1/16 in ": {From: [2]float64{8, 14}, To: [2]float64{1190, 1400}, Length: unit.Estimate(6*25.4, 0), HeightMM: 1.5875, At: at},
		"218.5 mm from 8,14 to 1190,1400 on axis":        {From: [2]float64{8, 14}, To: [2]float64{1190, 1400}, Length: unit.Estimate(218.5, 0), OnAxis: true, At: at},
	} {
		got, err := readKnown(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if got.From != want.From || got.To != want.To || math.Abs(got.Length.X-want.Length.X) > 1e-9 || got.Length.U != want.Length.U ||
			got.HeightMM != want.HeightMM || got.OnAxis != want.OnAxis || got.At != want.At {
			t.Errorf("%q: %+v, want %+v", text, *got, want)
		}
	}
	for _, text := range []string{"", "150 mm", "150 mm from 1,2", "150 from 1,2 to 3,4", "150 mm from 1,2 to 3,4 above", "150 mm from 1.2.3,2 to 3,4", "150 mm from 1,2 to 3,4 above 3"} {
		if got, err := readKnown(text); err == nil {
			t.Errorf("%q is taken for %+v", text, got)
		}
	}
}
