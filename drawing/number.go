package drawing

import (
	"math"
	"strconv"
)

// num writes a length with at most three decimals (a thousandth of a mm), the
// same on every machine and in both writers, without a negative zero.
func num(v float64) string { return string(appendNum(nil, v, 3)) }

func appendNum(b []byte, v float64, prec int) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', prec, 64)
	if prec > 0 {
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
		if b[len(b)-1] == '.' {
			b = b[:len(b)-1]
		}
	}
	if string(b[start:]) == "-0" {
		b = append(b[:start], '0')
	}
	return b
}

// sincosDeg is exact at the quarter turns, which sheets use most.
func sincosDeg(deg float64) (sin, cos float64) {
	switch math.Mod(math.Mod(deg, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(deg * math.Pi / 180)
}
