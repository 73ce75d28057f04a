package build

import (
	"math"
	"reflect"
	"regexp"
	"strconv"

	"scalewright/finding"
)

var (
	decimal   = regexp.MustCompile(`^[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]{1,4})?$`)
	notFinite = regexp.MustCompile(`^(?i:[-+]?\.?(nan|inf|infinity))$`)
)

// number reads a plain decimal. YAML's other forms (octal, underscores, 1:30)
// are refused: in a workshop they are slips.
func (d *decoder) number(n *node, v reflect.Value, r rules) {
	wanted := "a number"
	if v.Kind() == reflect.Int {
		wanted = "a whole number"
	}
	if n.kind != scalarNode || n.quoted {
		d.wrongType(n, r, wanted)
		return
	}
	if notFinite.MatchString(n.text) {
		d.notFinite(n)
		return
	}
	if !decimal.MatchString(n.text) {
		d.wrongType(n, r, wanted)
		return
	}
	x, err := strconv.ParseFloat(n.text, 64)
	if err != nil || math.IsInf(x, 0) {
		d.notFinite(n)
		return
	}
	if v.Kind() == reflect.Int && (x != math.Trunc(x) || math.Abs(x) > mostCount) {
		d.wrongType(n, r, wanted)
		return
	}
	if !d.bounded(n, x, "", r) {
		return
	}
	if v.Kind() == reflect.Int {
		v.SetInt(int64(x))
		return
	}
	v.SetFloat(x)
}

// mostCount bounds whole numbers, so that none overflows on 32 bits.
const mostCount = 1_000_000_000

func (d *decoder) notFinite(n *node) {
	d.report("not-finite", n.path, finding.Args{"key": finding.Name(lastKey(n.path)), "text": finding.Name(n.text)})
}

// bounded reports a figure outside the bounds of its tag.
func (d *decoder) bounded(n *node, x float64, unit string, r rules) bool {
	if r.holds(x) {
		return true
	}
	d.report("out-of-range", n.path, finding.Args{
		"key": finding.Name(lastKey(n.path)), "text": finding.Name(n.text), "bounds": finding.Name(r.bounds(unit)),
	})
	return false
}
