package unit

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Largest length a build may name: past it a digit was typed twice.
const mostMM = 100_000

// A DimError says what is wrong with the text of a dimension and what to write.
type DimError struct {
	Text string
	What string
	Do   string
}

func (e *DimError) Error() string { return e.What + "; " + e.Do }

// ParseDim reads a dimension. Of the shop: "3 mm", "20.8 cm", "1.2 m",
// "1/8 in", "8 3/16 in", `8 3/16"`, `1'-4 9/16"`. Of the reference: the same
// with a trailing "ref"; a bare number before "ref" is millimetres. A doubt
// may stand after the number: "22.5 ± 0.1 ref" (also "+-").
func ParseDim(text string) (Dim, error) {
	rest := strings.TrimSpace(text)
	fail := func(what, do string) (Dim, error) {
		return Dim{}, &DimError{Text: text, What: what, Do: do}
	}
	if rest == "" {
		return fail("a dimension is empty", `write it like "3 mm" or "22.5 ref"`)
	}
	d := Dim{Text: rest}
	if head, ok := strings.CutSuffix(rest, "ref"); ok {
		d.Owner, rest = OfReference, strings.TrimSpace(head)
	}
	rest, doubt, hasDoubt := cutDoubt(rest)
	body, scale, named, err := cutUnit(rest, doubt)
	if err != nil {
		return fail(err.Error(), "use mm, cm, m, in, \", ft or '")
	}
	if !named && d.Owner == OfShop {
		return fail(fmt.Sprintf("%q has no unit", text),
			fmt.Sprintf("write %q if it is of the shop, %q if it grows with the enlargement", body+" mm", body+" ref"))
	}
	mm, err := number(body, scale)
	if err != nil {
		return fail(fmt.Sprintf("%q is not a length: %v", text, err), `write it like "3 mm", "1/8 in" or "22.5 ref"`)
	}
	d.MM = mm
	if hasDoubt {
		// A doubt may name a unit of its own: "2 cm ± 0.5 mm".
		doubtBody, own, named, err := cutUnit(doubt, "")
		if err != nil {
			return fail(err.Error(), "use mm, cm, m, in, \", ft or '")
		}
		if named {
			scale = own
		}
		u, err := number(doubtBody, scale)
		if err != nil || u < 0 {
			return fail(fmt.Sprintf("the doubt in %q is not a length", text), `write it like "22.5 ± 0.1 ref"`)
		}
		d.U = u
	}
	if max(math.Abs(d.MM), d.U) > mostMM {
		return fail(fmt.Sprintf("%q is more than 100 m", text), "check the figure and its unit")
	}
	return d, nil
}

func cutDoubt(s string) (value, doubt string, found bool) {
	for _, sign := range []string{"±", "+/-", "+-"} {
		if before, after, ok := strings.Cut(s, sign); ok {
			return strings.TrimSpace(before), strings.TrimSpace(after), true
		}
	}
	return s, "", false
}

// Units by name, millimetres each.
var unitsByName = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, `"`: 25.4, "ft": 304.8, "'": 304.8}

// cutUnit splits the unit off the value, or finds it after the doubt, where
// "22.5 ± 0.1 mm" carries it once for both.
func cutUnit(value, doubt string) (body string, scale float64, named bool, err error) {
	if strings.Contains(value, "'") {
		return value, 1, true, nil
	}
	for _, s := range []string{value, doubt} {
		at := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("+-0123456789./ ", r) })
		if at < 0 {
			continue
		}
		name := strings.TrimSpace(s[at:])
		mm, ok := unitsByName[name]
		if !ok {
			return "", 0, false, fmt.Errorf("%q is not a unit of length", name)
		}
		if s == value {
			value = s[:at]
		}
		return strings.TrimSpace(value), mm, true, nil
	}
	return strings.TrimSpace(value), 1, false, nil
}

// number reads "22.5", "1/8", "8 3/16" or `1'-4 9/16"` as millimetres.
func number(s string, scale float64) (float64, error) {
	if feet, inches, ok := strings.Cut(s, "'"); ok {
		f, err := mixed(feet)
		if err != nil {
			return 0, err
		}
		inches = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(inches), "-"), `"`))
		if inches == "" {
			return f * 304.8, nil
		}
		i, err := mixed(inches)
		if i < 0 {
			return 0, errors.New("inches of feet are not negative")
		}
		return f*304.8 + sign(feet)*i*25.4, err
	}
	x, err := mixed(s)
	return x * scale, err
}

func mixed(s string) (float64, error) {
	fields := strings.Fields(s)
	switch len(fields) {
	case 1:
		return fraction(fields[0])
	case 2:
		whole, err := fraction(fields[0])
		if err != nil {
			return 0, err
		}
		part, err := fraction(fields[1])
		if err != nil || !strings.Contains(fields[1], "/") || strings.ContainsAny(fields[1], "+-") {
			return 0, errors.New("two numbers stand side by side")
		}
		return whole + sign(fields[0])*part, nil
	}
	return 0, errors.New("no single number in it")
}

// sign is that of a number as written: "-0" is negative too.
func sign(s string) float64 {
	if strings.HasPrefix(strings.TrimSpace(s), "-") {
		return -1
	}
	return 1
}

func fraction(s string) (float64, error) {
	top, bottom, isFraction := strings.Cut(s, "/")
	a, err := strconv.ParseFloat(top, 64)
	if err != nil || math.IsNaN(a) || math.IsInf(a, 0) {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	if !isFraction {
		return a, nil
	}
	b, err := strconv.ParseFloat(bottom, 64)
	if err != nil || b == 0 || math.IsNaN(b) || math.IsInf(b, 0) {
		return 0, fmt.Errorf("%q is not a fraction", s)
	}
	return a / b, nil
}
