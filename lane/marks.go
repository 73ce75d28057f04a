package lane

import (
	"strconv"

	"scalewright/unit"
)

// anchors are the stations that a mark stands at, for selection on the page.
func anchors(from, to float64) [][2]string {
	return [][2]string{{"from", station3(from)}, {"to", station3(to)}}
}

// station3 is a station to a thousandth of a millimetre, without trailing noughts.
func station3(x float64) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', 3, 64), 64)
	if rounded == 0 {
		rounded = 0 // no negative nought
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// chance writes a probability as n in 100; what is smaller or surer than one in a
// hundred is said so.
func chance(x float64) string {
	switch {
	case !(x > 0):
		return "0 in 100"
	case x < 0.01:
		return "less than 1 in 100"
	case x > 0.99 && x < 1:
		return "more than 99 in 100"
	}
	return strconv.Itoa(int(x*100+0.5)) + " in 100"
}

func kilograms(m unit.Mass) string {
	if m < 1000 {
		return strconv.Itoa(int(float64(m)+0.5)) + " g"
	}
	return strconv.FormatFloat(m.Kilograms(), 'f', 1, 64) + " kg"
}

// hundredths writes a length in mm whatever the system: walls, clearances and
// errors are below a sixteenth.
func hundredths(x float64) string { return unit.Metric.Fine(unit.Length(x)) }
