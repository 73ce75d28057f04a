package build

import (
	"slices"
	"strings"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// choose looks a name up among those known; the mistake names the nearest.
func choose(text, kind string, known []string) *mistake {
	if slices.Contains(known, text) {
		return nil
	}
	return &mistake{"unknown-name", finding.Args{
		"name": finding.Name(text), "kind": finding.Name(kind), "hint": finding.Name(hint(text, known)),
	}}
}

// choice is a name out of a fixed list.
type choice interface {
	written
	known() []string
}

type datumEnd string

func (c *datumEnd) form() string              { return "end of the photograph" }
func (c *datumEnd) known() []string           { return []string{"left", "right"} }
func (c *datumEnd) read(text string) *mistake { return pick(c, (*string)(c), text) }

// What a known length lies on.
const (
	onTable = "table"
	onAxis  = "axis"
)

type levelName string

func (c *levelName) form() string              { return "thing that a known length lies on" }
func (c *levelName) known() []string           { return []string{onTable, onAxis} }
func (c *levelName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type truthName string

func (c *truthName) form() string { return "thing to be true of a segment" }
func (c *truthName) known() []string {
	return []string{
		string(model.Parallel), string(model.NoDraft), string(model.Equal), string(model.SquareTo), string(model.Tangent), string(model.AsIs),
	}
}
func (c *truthName) read(text string) *mistake { return pick(c, (*string)(c), text) }

// What lies under a brush's stroke.
const (
	paintedObject = "object"
	paintedMat    = "mat"
)

type paintName string

func (c *paintName) form() string              { return "word for what lies under a stroke" }
func (c *paintName) known() []string           { return []string{paintedObject, paintedMat} }
func (c *paintName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type cornerName string

// What of an outline is corrected.
const (
	correctedCorner = "corner"
	correctedArc    = "arc"
)

func (c *cornerName) form() string              { return "word for what was moved" }
func (c *cornerName) known() []string           { return []string{correctedCorner, correctedArc} }
func (c *cornerName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type featureName string

func (c *featureName) form() string { return "kind of feature" }
func (c *featureName) known() []string {
	return []string{string(model.FeatureCircle), string(model.FeatureRectangle), string(model.FeatureLine)}
}
func (c *featureName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type holdName string

func (c *holdName) form() string { return "way to sit on the core" }
func (c *holdName) known() []string {
	return []string{string(model.Bored), string(model.Spaced)}
}
func (c *holdName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type jointName string

func (c *jointName) form() string { return "joint kind" }
func (c *jointName) known() []string {
	var words []string
	for _, j := range stock.Joints() {
		words = append(words, j.Word)
	}
	return words
}

func (c *jointName) read(text string) *mistake {
	if j, ok := stock.FindJoint(text); ok {
		text = j.Word
	}
	return pick(c, (*string)(c), text)
}

// kind is the joint kind of the trade; empty stays empty.
func (c jointName) kind() model.JointKind {
	j, _ := stock.FindJoint(string(c))
	return model.JointKind(j.ID)
}

type endName string

func (c *endName) form() string              { return "end of a part" }
func (c *endName) known() []string           { return []string{model.Foot, model.Nose} }
func (c *endName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type dayName string

var week = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

func (c *dayName) form() string              { return "day of the week" }
func (c *dayName) known() []string           { return week }
func (c *dayName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type stockName string

func (c *stockName) form() string { return "stock pipe" }
func (c *stockName) known() []string {
	var ids []string
	for _, p := range stock.Pipes() {
		ids = append(ids, p.ID)
	}
	return ids
}
func (c *stockName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type materialName string

func (c *materialName) form() string { return "filament material" }
func (c *materialName) known() []string {
	var names []string
	for _, m := range stock.Materials() {
		names = append(names, m.Name)
	}
	return names
}

func (c *materialName) read(text string) *mistake {
	if m, ok := stock.FindMaterial(text); ok {
		text = m.Name
	}
	return pick(c, (*string)(c), text)
}

// findingCode is the code of a finding that may be silenced. Its list grows
// with the program, so the schema gives its form only.
type findingCode string

func (c *findingCode) form() string { return "code of a finding" }

func (c *findingCode) read(text string) *mistake {
	var cautions []string
	for _, e := range finding.Entries() {
		if e.Severity == finding.Caution {
			cautions = append(cautions, string(e.Code))
		} else if string(e.Code) == text {
			return &mistake{"cannot-quiet", finding.Args{"code": finding.Name(text), "severity": finding.Name(e.Severity.String())}}
		}
	}
	bad := choose(text, c.form(), cautions)
	if bad == nil {
		*c = findingCode(text)
	}
	return bad
}

func pick(c choice, into *string, text string) *mistake {
	bad := choose(text, c.form(), c.known())
	if bad != nil && finding.Nearest(strings.ToLower(text), c.known()) == "" && len(c.known()) > 8 {
		bad.args["hint"] = finding.Name("see the list in the file's schema: " + strings.Join(c.known()[:3], ", ") + " and so on")
	}
	if bad == nil {
		*into = text
	}
	return bad
}

type formName string

func (c *formName) form() string { return "form of a part" }
func (c *formName) known() []string {
	return []string{string(model.Turned), string(model.Flat), string(model.Imported)}
}
func (c *formName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type lieName string

func (c *lieName) form() string              { return "way a flat part lies" }
func (c *lieName) known() []string           { return []string{string(model.Along), string(model.Across)} }
func (c *lieName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type ownerName string

func (c *ownerName) form() string              { return "owner of a size" }
func (c *ownerName) known() []string           { return []string{"reference", "shop"} }
func (c *ownerName) read(text string) *mistake { return pick(c, (*string)(c), text) }

func (c ownerName) owner() unit.Owner {
	if c == "shop" {
		return unit.OfShop
	}
	return unit.OfReference
}

type gradeName string

func (c *gradeName) form() string { return "grade of a finish" }
func (c *gradeName) known() []string {
	return []string{string(model.Unfinished), string(model.StageGrade), string(model.ArmGrade), string(model.CloseGrade)}
}
func (c *gradeName) read(text string) *mistake { return pick(c, (*string)(c), text) }

// paperName is the sheet that templates are printed on.
type paperName string

func (c *paperName) form() string { return "size of paper" }
func (c *paperName) known() []string {
	return []string{string(model.PaperA4), string(model.PaperLetter)}
}
func (c *paperName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type sunName string

func (c *sunName) form() string { return "kind of sun" }
func (c *sunName) known() []string {
	return []string{string(model.NoSun), string(model.WindowSun), string(model.OpenSun)}
}
func (c *sunName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type reachName string

func (c *reachName) form() string { return "reach of the public" }
func (c *reachName) known() []string {
	return []string{string(model.Touches), string(model.Reaches), string(model.KeptOff)}
}
func (c *reachName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type serviceName string

func (c *serviceName) form() string { return "way to reach a component" }
func (c *serviceName) known() []string {
	return []string{string(model.Sealed), string(model.Serviced), string(model.Pressed), string(model.Outside)}
}
func (c *serviceName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type patternName string

func (c *patternName) form() string { return "pattern of light" }
func (c *patternName) known() []string {
	return []string{string(model.Steady), string(model.Breathe), string(model.Flicker), string(model.Run)}
}
func (c *patternName) read(text string) *mistake { return pick(c, (*string)(c), text) }

type componentName string

func (c *componentName) form() string { return "kind of component" }
func (c *componentName) known() []string {
	var ids []string
	for _, k := range stock.Components() {
		ids = append(ids, k.ID)
	}
	return ids
}
func (c *componentName) read(text string) *mistake { return pick(c, (*string)(c), text) }
