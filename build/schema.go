package build

import (
	"encoding/json"
	"fmt"
	"reflect"

	"github.com/goccy/go-yaml"
	"github.com/invopop/jsonschema"
)

//go:generate go test . -run=^TestSchemaIsCurrent$ -update

// Schemas are the JSON Schemas of what a maker writes, by file name: completion
// and checking in an editor, made of the same types and tags as the reader.
func Schemas() map[string][]byte {
	return map[string][]byte{
		"build.schema.json":   schemaOf(buildFile{}, "build.yaml of a build"),
		"shop.schema.json":    schemaOf(shopFile{}, "shop.yaml of a build"),
		"outline.schema.json": schemaOf(outlineFile{}, "outline of a build, mm of the reference"),
		"marks.schema.json":   schemaOf(marksFile{}, "marks of a photograph, pixels and mm on the mat"),
	}
}

func schemaOf(file any, title string) []byte {
	r := jsonschema.Reflector{
		FieldNameTag: "yaml", DoNotReference: true, ExpandedStruct: true, Anonymous: true,
		Mapper: mapWritten,
	}
	s := r.Reflect(file)
	s.Title = title
	s.ID = ""
	tighten(s, reflect.TypeOf(file))
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic(fmt.Sprintf("build: internal error: schema: %v", err))
	}
	return append(text, '\n')
}

// mapWritten gives types with a form of their own the schema they state.
func mapWritten(t reflect.Type) *jsonschema.Schema {
	if w, ok := reflect.New(t).Interface().(written); ok {
		return w.schema()
	}
	return nil
}

// tighten adds what the tags alone do not say: ids of mappings, bounds of the
// items of lists, the one schema number, examples.
func tighten(s *jsonschema.Schema, t reflect.Type) {
	if s == nil {
		return
	}
	switch t.Kind() {
	case reflect.Pointer:
		tighten(s, t.Elem())
	case reflect.Slice, reflect.Array:
		tighten(s.Items, t.Elem())
	case reflect.Map:
		s.PropertyNames = &jsonschema.Schema{Pattern: idForm.String()}
		tighten(s.AdditionalProperties, t.Elem())
	case reflect.Struct:
		tightenFields(s, t)
	}
}

// exampleOf reads the example of a tag as the file would be read.
func exampleOf(text string) any {
	var value any
	if err := yaml.Unmarshal([]byte(text), &value); err != nil {
		panic("build: internal error: example " + text)
	}
	return value
}

func tightenFields(s *jsonschema.Schema, t reflect.Type) {
	if s.Properties == nil {
		return
	}
	for name, f := range fieldsOf(t) {
		property, ok := s.Properties.Get(name)
		if !ok {
			panic("build: internal error: no schema for " + name)
		}
		if f.rules.example != "" {
			property.Examples = []any{exampleOf(f.rules.example)}
		}
		if name == "schema" {
			property.Const = json.Number(schemaKnown)
			property.Examples = nil
		}
		if kind := t.Field(f.index).Type.Kind(); kind == reflect.Map && f.rules.minItems > 0 {
			least := uint64(f.rules.minItems)
			property.MinProperties = &least
		}
		tighten(property, t.Field(f.index).Type)
		if reserved := f.rules.reserved; reserved != nil && property.PropertyNames != nil {
			property.PropertyNames.Not = &jsonschema.Schema{}
			for _, id := range reserved {
				property.PropertyNames.Not.Enum = append(property.PropertyNames.Not.Enum, id)
			}
		}
	}
}
