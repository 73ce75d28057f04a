package finding

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"scalewright/unit"
)

// Args are the typed figures and names of a finding, by the catalogue's names.
type Args map[string]Arg

// Arg is one figure or name. Which kind it is decides how it is written.
type Arg interface {
	write(unit.System) string
}

type (
	// Long is a length worth a whole millimetre: overall, stations, spans.
	Long unit.Length
	// Size is a length worth a tenth: diameters, bores.
	Size unit.Length
	// Fine is a length worth a hundredth: walls, clearances, errors.
	Fine unit.Length
	// Name is a name or a list of names, as the maker wrote it.
	Name string
	// Count is a whole number.
	Count int
	// Number is a plain figure to three digits.
	Number float64
	// Span is a duration.
	Span unit.Minutes
	// Weight is a mass, in grams or kilograms.
	Weight unit.Mass
)

// Names writes a list: "bell, tail and nose".
func Names(names ...string) Name {
	switch len(names) {
	case 0:
		return "none"
	case 1:
		return Name(names[0])
	}
	last := len(names) - 1
	return Name(strings.Join(names[:last], ", ") + " and " + names[last])
}

func (a Long) write(s unit.System) string { return s.Whole(unit.Length(a)) }
func (a Size) write(s unit.System) string { return s.Tenth(unit.Length(a)) }
func (a Fine) write(s unit.System) string { return s.Fine(unit.Length(a)) }
func (a Name) write(unit.System) string   { return string(a) }
func (a Count) write(unit.System) string  { return strconv.Itoa(int(a)) }
func (a Number) write(unit.System) string {
	if a >= 1000 || a <= -1000 {
		return strconv.FormatFloat(float64(a), 'f', 0, 64)
	}
	return strconv.FormatFloat(float64(a), 'g', 3, 64)
}
func (a Span) write(unit.System) string { return unit.Duration(unit.Minutes(a)) }
func (a Weight) write(unit.System) string {
	if a >= 1000 {
		return fmt.Sprintf("%.1f kg", unit.Mass(a).Kilograms())
	}
	return fmt.Sprintf("%.0f g", float64(a))
}

// jsonKey is the argument's name with its unit, for reports.
func jsonKey(name string, a Arg) string {
	switch a.(type) {
	case Long, Size, Fine:
		return name + "_mm"
	case Span:
		return name + "_min"
	case Weight:
		return name + "_g"
	}
	return name
}

// MarshalJSON writes each argument under its name and unit, sorted.
func (a Args) MarshalJSON() ([]byte, error) {
	out := make(map[string]Arg, len(a))
	for _, name := range slices.Sorted(maps.Keys(a)) {
		out[jsonKey(name, a[name])] = a[name]
	}
	return json.Marshal(out)
}
