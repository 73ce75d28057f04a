package readings

import (
	"math"
	"strconv"
	"strings"

	"scalewright/finding"
)

// slipped is what may have been meant by a reading that was typed wrongly.
type slipped struct {
	code  finding.Code
	meant float64
}

// A slip is named where what it makes of the reading lies within so many doubts of
// what all else says.
const slipReach = 2.0

// slip is the likeliest slip of a hand that makes a reading out of what all else says;
// false where none does, or where two say different things about as well.
func slip(r Reading, seen, u float64) (slipped, bool) {
	best, off := slipped{}, math.Inf(1)
	other := math.Inf(1) // the next best that means something else
	try := func(code finding.Code, meant float64) {
		d := math.Abs(meant-seen) / u
		if !(meant > 0) || meant == r.X || d > slipReach {
			return
		}
		switch {
		case meant == best.meant:
		case d < off:
			best, off, other = slipped{code, meant}, d, off
		case d < other:
			other = d
		}
	}
	for _, meant := range swapped(r.Text) {
		try("reading-swapped", meant)
	}
	for _, by := range [...]float64{10, 0.1, 100, 0.01} {
		try("reading-point", math.Round(r.X*by*1e6)/1e6)
	}
	const inch = 25.4
	try("reading-inch", r.X*inch)
	try("reading-inch", r.X/inch)
	if r.Kind == Diameter {
		try("reading-radius", 2*r.X)
		try("reading-radius", r.X/2)
	}
	return best, off <= slipReach && other > slipReach
}

// swapped are the readings that come of a typed text when two neighbouring digits
// change places, the point between them or not.
func swapped(text string) []float64 {
	number := strings.FieldsFunc(text, func(c rune) bool { return (c < '0' || c > '9') && c != '.' && c != ',' })
	if len(number) == 0 {
		return nil
	}
	digits := []byte(strings.ReplaceAll(number[0], ",", "."))
	var out []float64
	last := -1
	for i, c := range digits {
		if c == '.' {
			continue
		}
		if last >= 0 && digits[last] != c {
			digits[last], digits[i] = digits[i], digits[last]
			if x, err := strconv.ParseFloat(string(digits), 64); err == nil {
				out = append(out, x)
			}
			digits[last], digits[i] = digits[i], digits[last]
		}
		last = i
	}
	return out
}
