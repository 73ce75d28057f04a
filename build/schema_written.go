package build

import (
	"github.com/invopop/jsonschema"

	"scalewright/stock"
)

func textSchema(pattern, description string) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "string", Pattern: pattern, Description: description}
}

func enumSchema(c choice, description string) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "string", Description: description}
	for _, name := range c.known() {
		s.Enum = append(s.Enum, name)
	}
	return s
}

// Patterns of dimensions, for editors: a number, a fraction or feet and inches
// with its unit, a doubt where there is one, and "ref" where it belongs.
// [unit.ParseDim] has the last word.
const (
	amount     = `[-+]?[0-9]*\.?[0-9]+(/[0-9]+)?( +[0-9]+/[0-9]+)?`
	doubt      = ` *(±|\+-|\+/-) *[0-9]*\.?[0-9]+`
	lengthUnit = ` *(mm|cm|m|in|ft|")`
	feetInches = `[0-9]+'(-? *[0-9]+)?( +[0-9]+/[0-9]+)?"?(` + doubt + `)?`

	withUnit    = amount + `(` + lengthUnit + `(` + doubt + `(` + lengthUnit + `)?)?|` + doubt + lengthUnit + `)|` + feetInches
	withoutUnit = amount + `(` + doubt + `)?`
	shopPattern = `^(` + withUnit + `)$`
	refPattern  = `^(` + withUnit + `|` + withoutUnit + `) *ref$`
	anyPattern  = `^(` + withUnit + `|(` + withUnit + `|` + withoutUnit + `) *ref)$`
)

func (d *dimension) schema() *jsonschema.Schema {
	return textSchema(anyPattern, `of the reference, "22.5 ref", grows with the enlargement; of the shop, "3 mm" or "1/8 in", never does`)
}

func (d *refDimension) schema() *jsonschema.Schema {
	return textSchema(refPattern, `of the reference, "22.5 ± 0.1 ref"; grows with the enlargement`)
}

func (d *shopDimension) schema() *jsonschema.Schema {
	return textSchema(shopPattern, `of the shop, "3 mm", "1/8 in" or "0.06 ± 0.05 mm"; never grows`)
}

func (f *fileName) schema() *jsonschema.Schema {
	return textSchema(`^[^/\\:][^\\:]*$`, "a file of the build folder, written with slashes")
}

func (d *date) schema() *jsonschema.Schema {
	s := textSchema("", "a day, 2026-11-30")
	s.Format = "date"
	return s
}

func (c *clock) schema() *jsonschema.Schema {
	return textSchema(clockForm.String(), `a time of day, "18:30"`)
}

func (c *currency) schema() *jsonschema.Schema {
	return textSchema(currencyForm.String(), "three letters, ISO 4217")
}

func (m *mass) schema() *jsonschema.Schema { return textSchema(massForm.String(), `"1 kg", "800 g"`) }

func (d *duration) schema() *jsonschema.Schema {
	return textSchema(`^[0-9.]+ ?(min|h|h [0-5][0-9]( ?min)?)$`, `"10 min", "1 h 30"`)
}

func (c *findingCode) schema() *jsonschema.Schema {
	return textSchema(idForm.String(), "code of a caution")
}

func (c *cornerName) schema() *jsonschema.Schema   { return enumSchema(c, c.form()) }
func (c *featureName) schema() *jsonschema.Schema  { return enumSchema(c, c.form()) }
func (c *truthName) schema() *jsonschema.Schema    { return enumSchema(c, c.form()) }
func (c *levelName) schema() *jsonschema.Schema    { return enumSchema(c, c.form()) }
func (c *datumEnd) schema() *jsonschema.Schema     { return enumSchema(c, c.form()) }
func (c *paintName) schema() *jsonschema.Schema    { return enumSchema(c, c.form()) }
func (c *holdName) schema() *jsonschema.Schema     { return enumSchema(c, c.form()) }
func (c *endName) schema() *jsonschema.Schema      { return enumSchema(c, c.form()) }
func (c *dayName) schema() *jsonschema.Schema      { return enumSchema(c, c.form()) }
func (c *stockName) schema() *jsonschema.Schema    { return enumSchema(c, c.form()) }
func (c *materialName) schema() *jsonschema.Schema { return enumSchema(c, c.form()) }

func (c *jointName) schema() *jsonschema.Schema {
	s := enumSchema(c, c.form())
	for _, j := range stock.Joints() {
		if j.ID != j.Word {
			s.Enum = append(s.Enum, j.ID)
		}
	}
	return s
}

func (c *formName) schema() *jsonschema.Schema      { return enumSchema(c, c.form()) }
func (c *lieName) schema() *jsonschema.Schema       { return enumSchema(c, c.form()) }
func (c *ownerName) schema() *jsonschema.Schema     { return enumSchema(c, c.form()) }
func (c *gradeName) schema() *jsonschema.Schema     { return enumSchema(c, c.form()) }
func (c *paperName) schema() *jsonschema.Schema     { return enumSchema(c, c.form()) }
func (c *sunName) schema() *jsonschema.Schema       { return enumSchema(c, c.form()) }
func (c *reachName) schema() *jsonschema.Schema     { return enumSchema(c, c.form()) }
func (c *serviceName) schema() *jsonschema.Schema   { return enumSchema(c, c.form()) }
func (c *patternName) schema() *jsonschema.Schema   { return enumSchema(c, c.form()) }
func (c *componentName) schema() *jsonschema.Schema { return enumSchema(c, c.form()) }

func (c *colourName) schema() *jsonschema.Schema {
	return textSchema(colourForm.String(), `red, green and blue: "#ff8a2a"`)
}
