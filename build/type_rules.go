package build

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// rules are what the tags of a field say of its value. The tag "jsonschema" is
// read by the schema generator too; bounds of a dimension are in mm and are
// read here only, since in the file it is text.
type rules struct {
	least, above *float64
	most         *float64
	minItems     int
	example      string
	reserved     []string // ids that may not be used
}

// field is a key that a mapping may hold.
type field struct {
	index    int
	required bool
	rules    rules
}

var fieldCache sync.Map // reflect.Type to map[string]field

func fieldsOf(t reflect.Type) map[string]field {
	if known, ok := fieldCache.Load(t); ok {
		return known.(map[string]field)
	}
	fields := map[string]field{}
	for f := range t.Fields() {
		name, options, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		if name == "" {
			panic("build: internal error: " + t.String() + "." + f.Name + " has no key")
		}
		fields[name] = field{index: f.Index[0], required: options != "omitempty", rules: rulesOf(f.Tag)}
	}
	fieldCache.Store(t, fields)
	return fields
}

func rulesOf(tag reflect.StructTag) rules {
	r := rules{example: tag.Get("example")}
	if ids := tag.Get("reserved"); ids != "" {
		r.reserved = strings.Split(ids, ",")
	}
	for part := range strings.SplitSeq(tag.Get("jsonschema"), ",") {
		name, value, _ := strings.Cut(part, "=")
		switch name {
		case "minimum":
			r.least = figure(value)
		case "exclusiveMinimum":
			r.above = figure(value)
		case "maximum":
			r.most = figure(value)
		case "minItems":
			r.minItems = int(*figure(value))
		}
	}
	return r
}

func figure(text string) *float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("build: internal error: bound " + text)
	}
	return &x
}

// forItems are the rules of the items of a list: its bounds, not its count.
func (r rules) forItems() rules {
	r.minItems = 0
	return r
}

func (r rules) holds(x float64) bool {
	return (r.least == nil || x >= *r.least) && (r.above == nil || x > *r.above) && (r.most == nil || x <= *r.most)
}

// bounds in words: "at least 0 mm and at most 5000 mm".
func (r rules) bounds(unit string) string {
	var words []string
	say := func(word string, x *float64) {
		if x != nil {
			words = append(words, word+" "+strconv.FormatFloat(*x, 'f', -1, 64)+unit)
		}
	}
	say("at least", r.least)
	say("more than", r.above)
	say("at most", r.most)
	return strings.Join(slices.Clip(words), " and ")
}
