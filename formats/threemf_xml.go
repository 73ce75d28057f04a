package formats

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"scalewright/solid"
)

const (
	maxDepth = 64      // elements inside each other; the core needs seven
	maxList  = 100_000 // objects, components, items and metadata together
)

// unitMillimetres holds the units of the 3MF core specification (ST_Unit).
var unitMillimetres = map[string]float64{
	"": 1, "micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000,
}

// modelReader builds a Model element by element; nothing is held but the result.
type modelReader struct {
	d         *xml.Decoder
	part      string
	limits    Limits
	scale     float64 // millimetres of the file's unit
	out       Model
	byID      map[string]int // object id → index; only looked up
	path      []string       // open elements that are understood, each with its parents
	skipped   int            // open elements that are not
	listed    int            // of maxList
	triangles int
	vertices  int
	text      strings.Builder
}

func readModel(r io.Reader, part string, limits Limits) (Model, error) {
	m := &modelReader{d: xml.NewDecoder(r), part: part, limits: limits, byID: map[string]int{}}
	for {
		token, err := m.d.Token()
		if errors.Is(err, io.EOF) {
			break // the decoder has seen to it that every element was closed
		}
		if err == nil {
			err = m.take(token)
		}
		if err != nil {
			return Model{}, partFault(part, err)
		}
	}
	if m.scale == 0 {
		return Model{}, &SyntaxError{Format: "3MF", Part: part, What: "holds no model"}
	}
	return m.out, nil
}

func (m *modelReader) fault(format string, args ...any) error {
	line, _ := m.d.InputPos()
	return &SyntaxError{Format: "3MF", Part: m.part, Line: line, What: fmt.Sprintf(format, args...)}
}

// take handles one token. Elements of other namespaces, and those of the core
// that carry no shape (materials), are skipped with all that is in them.
func (m *modelReader) take(token xml.Token) error {
	switch t := token.(type) {
	case xml.Directive:
		return m.fault("document type declarations are not allowed") // 3MF core specification, 2.3
	case xml.CharData:
		if m.skipped == 0 && m.parent() == "model/metadata" {
			m.text.Write(t)
		}
	case xml.StartElement:
		if len(m.path)+m.skipped >= maxDepth {
			return &LimitError{"3MF", "elements inside each other", maxDepth}
		}
		path := strings.TrimPrefix(m.parent()+"/"+t.Name.Local, "/")
		handle, known := modelElements[path]
		if m.skipped > 0 || !known || t.Name.Space != coreNamespace {
			if len(m.path) == 0 {
				return m.fault("begins with %q, want model in the namespace of the 3MF core", short(t.Name.Local))
			}
			m.skipped++
			return nil
		}
		m.path = append(m.path, path)
		return handle(m, attributes(t))
	case xml.EndElement:
		if m.skipped > 0 {
			m.skipped--
			return nil
		}
		path := m.parent()
		m.path = m.path[:len(m.path)-1]
		return m.end(path)
	}
	return nil
}

func (m *modelReader) parent() string {
	if len(m.path) == 0 {
		return ""
	}
	return m.path[len(m.path)-1]
}

// modelElements says what to do at the start of each element.
var modelElements = map[string]func(*modelReader, attrs) error{
	"model":                                          (*modelReader).startModel,
	"model/metadata":                                 (*modelReader).startMetadata,
	"model/resources":                                ignore,
	"model/build":                                    ignore,
	"model/resources/object":                         (*modelReader).startObject,
	"model/resources/object/mesh":                    ignore,
	"model/resources/object/mesh/vertices":           ignore,
	"model/resources/object/mesh/vertices/vertex":    (*modelReader).vertex,
	"model/resources/object/mesh/triangles":          ignore,
	"model/resources/object/mesh/triangles/triangle": (*modelReader).triangle,
	"model/resources/object/components":              ignore,
	"model/resources/object/components/component":    (*modelReader).component,
	"model/build/item":                               (*modelReader).item,
}

func ignore(*modelReader, attrs) error { return nil }

func (m *modelReader) startModel(a attrs) error {
	if m.scale != 0 {
		return m.fault("holds two models")
	}
	if need := strings.Fields(a["requiredextensions"]); len(need) > 0 {
		return m.fault("needs the extension %q, which is not understood", short(need[0]))
	}
	scale, ok := unitMillimetres[a["unit"]]
	if !ok {
		return m.fault("unit %q is unknown", short(a["unit"]))
	}
	m.scale = scale
	return nil
}

// listOne counts an entry of one of the lists.
func (m *modelReader) listOne() error {
	if m.listed++; m.listed > maxList {
		return &LimitError{"3MF", "objects, components, items and metadata", maxList}
	}
	return nil
}

func (m *modelReader) startMetadata(a attrs) error {
	m.text.Reset()
	m.out.Metadata = append(m.out.Metadata, Metadata{Name: a["name"]})
	return m.listOne()
}

func (m *modelReader) startObject(a attrs) error {
	id := a["id"]
	if id == "" {
		return m.fault("object has no id")
	}
	if _, taken := m.byID[id]; taken {
		return m.fault("object id %q is there twice", short(id))
	}
	// The index becomes known at the end, so an object can't contain itself.
	m.byID[id] = -1
	kind := ObjectType(a["type"])
	switch kind {
	case "model":
		kind = Solid
	case Solid, SolidSupport, Support, Surface, OtherObject:
	default:
		return m.fault("object type %q is unknown", short(a["type"]))
	}
	m.out.Objects = append(m.out.Objects, Object{Name: a["name"], Type: kind, PartNumber: a["partnumber"]})
	m.text.Reset()
	m.text.WriteString(id)
	return m.listOne()
}

func (m *modelReader) object() *Object { return &m.out.Objects[len(m.out.Objects)-1] }

func (m *modelReader) end(path string) error {
	switch path {
	case "model/metadata":
		d := &m.out.Metadata[len(m.out.Metadata)-1]
		d.Value = m.text.String()
		// Names with a namespace belong to other programs.
		if strings.Contains(d.Name, ":") || d.Name == "" {
			m.out.Metadata = m.out.Metadata[:len(m.out.Metadata)-1]
		}
	case "model/resources/object":
		m.byID[m.text.String()] = len(m.out.Objects) - 1
		return m.endObject()
	}
	return nil
}

func (m *modelReader) endObject() error {
	o := m.object()
	if o.Mesh.Empty() == (len(o.Components) == 0) {
		return m.fault("object %d has neither or both of mesh and components", len(m.out.Objects))
	}
	for i, t := range o.Mesh.Triangles {
		for _, v := range t {
			if int(v) >= len(o.Mesh.Vertices) {
				return m.fault("triangle %d names vertex %d of %d", i, v, len(o.Mesh.Vertices))
			}
		}
	}
	return nil
}

func (m *modelReader) vertex(a attrs) error {
	// Three vertices a triangle is the most a mesh can use.
	if m.vertices++; m.vertices > 3*m.limits.Triangles {
		return &LimitError{"3MF", "vertices", 3 * int64(m.limits.Triangles)}
	}
	var p solid.Vec
	for k, name := range [3]string{"x", "y", "z"} {
		x, err := m.number(a, name)
		if err != nil {
			return err
		}
		p[k] = x * m.scale
		if p[k]-p[k] != 0 {
			return m.fault("%s=%q is too large", name, short(a[name]))
		}
	}
	o := m.object()
	o.Mesh.Vertices = append(o.Mesh.Vertices, p)
	return nil
}

func (m *modelReader) triangle(a attrs) error {
	if m.triangles++; m.triangles > m.limits.Triangles {
		return &LimitError{"3MF", "triangles", int64(m.limits.Triangles)}
	}
	var t [3]int32
	for k, name := range [3]string{"v1", "v2", "v3"} {
		v, err := m.index(a, name)
		if err != nil {
			return err
		}
		t[k] = v
	}
	o := m.object()
	o.Mesh.Triangles = append(o.Mesh.Triangles, t)
	return nil
}

func (m *modelReader) component(a attrs) error {
	object, t, err := m.reference(a)
	if err != nil {
		return err
	}
	o := m.object()
	o.Components = append(o.Components, Component{Object: object, Transform: t})
	return m.listOne()
}

func (m *modelReader) item(a attrs) error {
	object, t, err := m.reference(a)
	if err != nil {
		return err
	}
	m.out.Items = append(m.out.Items, Item{Object: object, PartNumber: a["partnumber"], Transform: t})
	return m.listOne()
}
