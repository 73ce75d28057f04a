package main

import (
	"testing"

	"scalewright/stage/readings"
)

func TestReadReading(t *testing.T) {
	for text, want := range map[string]readings.Reading{
		"diameter 42.02 ± 0.03 mm at 80":    {Kind: readings.Diameter, X: 42.02, U: 0.03, Text: "42.02 ± 0.03 mm", Station: 80},
		" diameter 1/2 in at 30.5 mm ":      {Kind: readings.Diameter, X: 12.7, Text: "1/2 in", Station: 30.5},
		"length 168.1 mm from 0 to 168":     {Kind: readings.Length, X: 168.1, Text: "168.1 mm", To: 168},
		"length 12 cm from 10 mm to 162 mm": {Kind: readings.Length, X: 120, Text: "12 cm", From: 10, To: 162},
	} {
		got, err := readReading(text)
		if err != nil || got != want {
			t.Errorf("%q: %+v, %v, want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "42", "diameter 42 at 80", "diameter 42 mm", "length 168 mm from 0", "diameter 42 mm at 1.2.3", "width 42 mm at 80"} {
		if got, err := readReading(text); err == nil {
			t.Errorf("%q is taken for %+v", text, got)
		}
	}
}
