package build

import (
	"errors"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/invopop/jsonschema"

	"scalewright/finding"
	"scalewright/unit"
)

// written is a value with a form of its own, held as text.
type written interface {
	read(text string) *mistake
	form() string // in words: "a dimension"
	schema() *jsonschema.Schema
}

// mistake is a finding that does not know its place yet.
type mistake struct {
	code finding.Code
	args finding.Args
}

func notUnderstood(text, form, example string) *mistake {
	return &mistake{"not-understood", finding.Args{
		"text": finding.Name(text), "form": finding.Name(form), "example": finding.Name(example),
	}}
}

// dimension is of the reference or of the shop.
type dimension struct{ unit.Dim }

func (d *dimension) form() string         { return "a dimension" }
func (d *dimension) millimetres() float64 { return d.MM }

func (d *dimension) read(text string) *mistake {
	parsed, err := unit.ParseDim(text)
	if bad, ok := errors.AsType[*unit.DimError](err); ok {
		return &mistake{"bad-dimension", finding.Args{"what": finding.Name(bad.What), "hint": finding.Name(bad.Do)}}
	}
	if err != nil {
		panic("build: internal error: " + err.Error())
	}
	d.Dim = parsed
	return nil
}

// refDimension is of the reference only.
type refDimension struct{ dimension }

func (d *refDimension) form() string { return "a dimension of the reference" }

func (d *refDimension) read(text string) *mistake {
	return d.owned(text, unit.OfReference, d.form(), `write it with "ref" behind`)
}

// shopDimension is of the shop only.
type shopDimension struct{ dimension }

func (d *shopDimension) form() string { return "a dimension of the shop" }

func (d *shopDimension) read(text string) *mistake {
	return d.owned(text, unit.OfShop, d.form(), `write it without "ref"; it does not grow with the enlargement`)
}

func (d *dimension) owned(text string, owner unit.Owner, wanted, do string) *mistake {
	if bad := d.read(text); bad != nil {
		return bad
	}
	if d.Owner == owner {
		return nil
	}
	found := d.Owner.String()
	d.Dim = unit.Dim{}
	return &mistake{"wrong-owner", finding.Args{
		"text": finding.Name(text), "found": finding.Name(found), "wanted": finding.Name(wanted), "hint": finding.Name(do),
	}}
}

// fileName is a file of the build folder, written with slashes.
type fileName string

func (f *fileName) form() string { return "a file of the build folder" }

func (f *fileName) read(text string) *mistake {
	clean := path.Clean(text)
	local := text != "" && clean != "." && !path.IsAbs(text) && clean != ".." && !strings.HasPrefix(clean, "../")
	if !local || strings.ContainsAny(text, "\\:\x00") {
		return &mistake{"outside-folder", finding.Args{"file": finding.Name(text)}}
	}
	*f = fileName(clean)
	return nil
}

// date is a day: 2026-11-30.
type date string

func (d *date) form() string { return "a date" }

func (d *date) read(text string) *mistake {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return notUnderstood(text, "a date", "2026-11-30")
	}
	*d = date(text)
	return nil
}

// clock is a time of day; 24:00 is the end of the day.
type clock struct {
	minutes unit.Minutes
	written bool
}

func (c *clock) form() string { return "a time of day" }

var clockForm = regexp.MustCompile(`^([01]?[0-9]|2[0-4]):([0-5][0-9])$`)

func (c *clock) read(text string) *mistake {
	m := clockForm.FindStringSubmatch(text)
	if m != nil {
		minutes := wholeNumber(m[1])*60 + wholeNumber(m[2])
		if minutes <= 24*60 {
			*c = clock{unit.Minutes(minutes), true}
			return nil
		}
	}
	return notUnderstood(text, "a time of day", `"18:30"`)
}

func wholeNumber(digits string) int {
	n := 0
	for _, c := range []byte(digits) {
		n = n*10 + int(c-'0')
	}
	return n
}

// currency is a code of three letters (ISO 4217).
type currency string

func (c *currency) form() string { return "a currency of three letters" }

var currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)

func (c *currency) read(text string) *mistake {
	if !currencyForm.MatchString(text) {
		return notUnderstood(text, "a currency of three letters", "EUR")
	}
	*c = currency(text)
	return nil
}

var idForm = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)

// Names that a file may not have under Windows, with or without an extension:
// Microsoft, "Naming Files, Paths, and Namespaces".
var deviceNames = regexp.MustCompile(`^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`)

func checkID(id string, reserved []string) *mistake {
	args := finding.Args{"id": finding.Name(id)}
	switch {
	case !idForm.MatchString(id):
		return &mistake{"bad-id", args}
	case deviceNames.MatchString(id) || slices.Contains(reserved, id):
		return &mistake{"reserved-id", finding.Args{"id": finding.Name(id), "hint": finding.Name(fmt.Sprintf("%s-1", id))}}
	}
	return nil
}

// colourName is a colour of light: "#rrggbb".
type colourName [3]uint8

func (c *colourName) form() string { return "a colour" }

var colourForm = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)

func (c *colourName) read(text string) *mistake {
	if !colourForm.MatchString(text) {
		return notUnderstood(text, "a colour", `"#ff8a2a"`)
	}
	for i := range c {
		x, err := strconv.ParseUint(text[1+2*i:3+2*i], 16, 8)
		if err != nil {
			panic("build: internal error: " + err.Error())
		}
		c[i] = uint8(x)
	}
	return nil
}
