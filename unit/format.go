package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is how a reader wants lengths written.
type System uint8

const (
	// Metric writes millimetres.
	Metric System = iota
	// FeetInches writes feet, inches and sixteenths.
	FeetInches
)

// Whole writes a length to the whole millimetre, with its unit.
func (s System) Whole(l Length) string { return s.write(l, 0) }

// Tenth writes a length to the tenth of a millimetre, with its unit.
func (s System) Tenth(l Length) string { return s.write(l, 1) }

// Fine writes walls, nozzles, clearances and errors: hundredths of a
// millimetre in every system, since they lie below a sixteenth of an inch.
func (s System) Fine(l Length) string { return trim(float64(l), 2) + " mm" }

// Figure is Whole without the unit: the lettering of a drawing.
func (s System) Figure(l Length) string {
	if s == FeetInches {
		return feetInches(l)
	}
	return trim(float64(l), 0)
}

func (s System) write(l Length, places int) string {
	if s == FeetInches {
		return feetInches(l)
	}
	return trim(float64(l), places) + " mm"
}

// trim writes x to at most so many decimal places, without trailing noughts.
func trim(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// feetInches rounds to the nearest sixteenth and reduces: 4'-3 5/8".
func feetInches(l Length) string {
	n := int(math.Round(math.Abs(l.Inches()) * 16))
	sign := ""
	if l < 0 && n > 0 {
		sign = "-"
	}
	feet, n := n/192, n%192
	inches, n := n/16, n%16
	var b strings.Builder
	b.WriteString(sign)
	if feet > 0 {
		fmt.Fprintf(&b, "%d'-", feet)
	}
	if inches > 0 || n == 0 || feet > 0 {
		fmt.Fprintf(&b, "%d", inches)
	}
	if n > 0 {
		if inches > 0 || feet > 0 {
			b.WriteByte(' ')
		}
		d := 16
		for n%2 == 0 {
			n, d = n/2, d/2
		}
		fmt.Fprintf(&b, "%d/%d", n, d)
	}
	b.WriteByte('"')
	return b.String()
}

// Duration writes minutes as a maker says them: "40 min", "11 h", "2 h 30".
func Duration(m Minutes) string {
	switch {
	case m < 60:
		return fmt.Sprintf("%d min", int(m))
	case m%60 == 0:
		return fmt.Sprintf("%d h", int(m/60))
	}
	return fmt.Sprintf("%d h %02d", int(m/60), int(m%60))
}
