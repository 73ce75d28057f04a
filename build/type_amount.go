package build

import (
	"math"
	"regexp"
	"strconv"

	"scalewright/unit"
)

// Most mass and time that one value may state: past them a digit was typed
// twice.
const (
	mostGrams   = 1e6
	mostMinutes = 100_000
)

// mass is grams, written with its unit.
type mass unit.Mass

func (m *mass) form() string { return "a mass" }

var massForm = regexp.MustCompile(`^([0-9]*\.?[0-9]+) ?(g|kg|oz|lb)$`)

// Grams of each unit. The pound is 453.59237 g by the international yard and
// pound agreement of 1959, and the ounce a sixteenth of it.
var grams = map[string]float64{"g": 1, "kg": 1000, "lb": 453.59237, "oz": 453.59237 / 16}

func (m *mass) read(text string) *mistake {
	if parts := massForm.FindStringSubmatch(text); parts != nil {
		x, err := strconv.ParseFloat(parts[1], 64)
		if err == nil && x*grams[parts[2]] <= mostGrams {
			*m = mass(x * grams[parts[2]])
			return nil
		}
	}
	return notUnderstood(text, "a mass", "1 kg")
}

// duration is whole minutes, written with its unit.
type duration unit.Minutes

func (d *duration) form() string { return "a duration" }

var (
	minutesForm = regexp.MustCompile(`^([0-9]*\.?[0-9]+) ?(min|h)$`)
	hoursForm   = regexp.MustCompile(`^([0-9]{1,4}) ?h ([0-5][0-9])(?: ?min)?$`)
)

func (d *duration) read(text string) *mistake {
	if parts := hoursForm.FindStringSubmatch(text); parts != nil {
		*d = duration(wholeNumber(parts[1])*60 + wholeNumber(parts[2]))
		return nil
	}
	if parts := minutesForm.FindStringSubmatch(text); parts != nil {
		x, err := strconv.ParseFloat(parts[1], 64)
		if parts[2] == "h" {
			x *= 60
		}
		if err == nil && x <= mostMinutes {
			*d = duration(math.Round(x))
			return nil
		}
	}
	return notUnderstood(text, "a duration", "10 min")
}
