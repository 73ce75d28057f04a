package build

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"scalewright/finding"
)

// decoder fills the raw types from a document. The tags of the raw types are
// the one list of what a file may hold: the JSON Schema is made of the same.
type decoder struct {
	doc   *document
	found finding.List
}

// decode reads a whole file; what was understood is filled in even when
// findings are left.
func decode[T any](doc *document) (T, finding.List) {
	var out T
	if doc.root == nil {
		return out, nil
	}
	d := decoder{doc: doc}
	if !d.knowsSchema(reflect.TypeFor[T]()) {
		return out, d.found
	}
	if doc.root.kind == nothingNode {
		doc.root.kind = mappingNode // an empty file lacks every key
	}
	d.value(doc.root, reflect.ValueOf(&out).Elem(), rules{})
	return out, d.found
}

// schemaKnown is the one number of the format that this program reads.
const schemaKnown = "1"

// knowsSchema stops at a format of another number: every other finding would be
// nonsense.
func (d *decoder) knowsSchema(t reflect.Type) bool {
	n := d.doc.root.child("schema")
	if _, has := t.FieldByName("Schema"); !has || n == nil || n.kind != scalarNode || n.text == schemaKnown {
		return true
	}
	d.report("unknown-schema", "schema", finding.Args{"number": finding.Name(n.text), "known": finding.Name(schemaKnown)})
	return false
}

func (d *decoder) report(code finding.Code, path string, args finding.Args) {
	d.found.Add(finding.New(code, finding.Place{File: d.doc.file, Path: path}, args))
}

// wrongType says what stands where something else should.
func (d *decoder) wrongType(n *node, r rules, wanted string) {
	found := n.kind.String()
	if n.kind == scalarNode {
		found = fmt.Sprintf("%q", n.text)
	}
	do := "write " + wanted
	if r.example != "" {
		do = fmt.Sprintf("write it like %s: %s", lastKey(n.path), r.example)
	}
	d.report("wrong-type", n.path, finding.Args{
		"key": finding.Name(lastKey(n.path)), "found": finding.Name(found), "wanted": finding.Name(wanted), "hint": finding.Name(do),
	})
}

// lastKey names a path for people: "wall"; an item of a list by its list.
func lastKey(path string) string {
	keys := strings.Split(path, ".")
	for i, key := range slices.Backward(keys) {
		if _, isItem := index(key); !isItem || i == 0 {
			return key
		}
	}
	return path
}

func (d *decoder) value(n *node, v reflect.Value, r rules) {
	if read, ok := v.Addr().Interface().(written); ok {
		d.text(n, r, read)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		d.value(n, v.Elem(), r)
	case reflect.Struct:
		d.structure(n, v, r)
	case reflect.Map:
		d.byID(n, v, r)
	case reflect.Slice:
		d.list(n, v, r)
	case reflect.Array:
		d.array(n, v, r)
	case reflect.Float64, reflect.Int:
		d.number(n, v, r)
	case reflect.Bool:
		if n.kind != scalarNode || n.quoted || n.text != "true" && n.text != "false" {
			d.wrongType(n, r, "true or false")
			return
		}
		v.SetBool(n.text == "true")
	case reflect.String:
		d.freeText(n, v, r)
	default:
		panic("build: internal error: no decoder for " + v.Type().String())
	}
}

// text hands a scalar to a type that has a form of its own.
func (d *decoder) text(n *node, r rules, into written) {
	if n.kind != scalarNode {
		d.wrongType(n, r, into.form())
		return
	}
	if bad := into.read(n.text); bad != nil {
		d.report(bad.code, n.path, bad.args)
		return
	}
	if mm, ok := into.(interface{ millimetres() float64 }); ok {
		d.bounded(n, mm.millimetres(), " mm", r)
	}
}

func (d *decoder) freeText(n *node, v reflect.Value, r rules) {
	if n.kind != scalarNode {
		d.wrongType(n, r, "text")
		return
	}
	if len(n.text) > mostFree {
		d.report("too-long", n.path, finding.Args{"key": finding.Name(lastKey(n.path)), "most": finding.Count(mostFree)})
		return
	}
	v.SetString(n.text)
}

// mostFree bounds free text, so that a label or a table can show it.
const mostFree = 200

// structure decodes a mapping with known keys.
func (d *decoder) structure(n *node, v reflect.Value, r rules) {
	if n.kind != mappingNode {
		d.wrongType(n, r, "a mapping")
		return
	}
	fields := fieldsOf(v.Type())
	for _, e := range n.entries {
		f, ok := fields[e.key]
		if !ok {
			d.unknownKey(join(n.path, e.key), e.key, slices.Sorted(maps.Keys(fields)))
			continue
		}
		if e.value.kind == nothingNode && !f.required {
			continue // a key left empty says nothing
		}
		d.value(e.value, v.Field(f.index), f.rules)
	}
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		if f := fields[name]; f.required && n.child(name) == nil {
			d.missingKey(n.path, name, f.rules.example)
		}
	}
}

func (d *decoder) unknownKey(path, key string, known []string) {
	d.report("unknown-key", path, finding.Args{"key": finding.Name(key), "hint": finding.Name(hint(key, known))})
}

func (d *decoder) missingKey(path, name, example string) {
	do := "write " + name + ":"
	if example != "" {
		do += " " + example
	}
	where := "the file"
	if path != "" {
		where = path
	}
	d.report("missing-key", join(path, name), finding.Args{
		"key": finding.Name(name), "where": finding.Name(where), "hint": finding.Name(do),
	})
}

// hint names the nearest of the known names, else all of them.
func hint(name string, known []string) string {
	if near := finding.Nearest(strings.ToLower(name), known); near != "" {
		return "did you mean " + near + "?"
	}
	switch len(known) {
	case 0:
		return "none is declared"
	case 1:
		return "write " + known[0]
	}
	last := len(known) - 1
	return "write one of " + strings.Join(known[:last], ", ") + " or " + known[last]
}

// byID decodes a mapping from the maker's ids.
func (d *decoder) byID(n *node, v reflect.Value, r rules) {
	if n.kind != mappingNode {
		d.wrongType(n, r, "a mapping")
		return
	}
	v.Set(reflect.MakeMap(v.Type()))
	seen := map[string]string{}
	for _, e := range n.entries {
		path := join(n.path, e.key)
		lower := strings.ToLower(e.key)
		if other, twice := seen[lower]; twice && other != e.key {
			d.report("double-id", path, finding.Args{"id": finding.Name(e.key), "other": finding.Name(other)})
		}
		seen[lower] = e.key
		if bad := checkID(e.key, r.reserved); bad != nil {
			d.report(bad.code, path, bad.args)
		}
		item := reflect.New(v.Type().Elem()).Elem()
		d.value(e.value, item, rules{})
		v.SetMapIndex(reflect.ValueOf(e.key), item)
	}
	d.countItems(n, len(n.entries), r)
}

func (d *decoder) list(n *node, v reflect.Value, r rules) {
	if n.kind != listNode {
		d.wrongType(n, r, "a list")
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.items), len(n.items)))
	for i, item := range n.items {
		d.value(item, v.Index(i), r.forItems())
	}
	d.countItems(n, len(n.items), r)
}

func (d *decoder) array(n *node, v reflect.Value, r rules) {
	if n.kind != listNode || len(n.items) != v.Len() {
		d.wrongType(n, r, fmt.Sprintf("a list of %d", v.Len()))
		return
	}
	for i, item := range n.items {
		d.value(item, v.Index(i), r.forItems())
	}
}

func (d *decoder) countItems(n *node, count int, r rules) {
	if count < r.minItems {
		d.report("too-few", n.path, finding.Args{
			"key": finding.Name(lastKey(n.path)), "count": finding.Count(count), "least": finding.Count(r.minItems),
		})
	}
}
