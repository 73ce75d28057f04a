package formats

import (
	"encoding/xml"
	"strconv"
	"strings"

	"scalewright/solid"
)

// attrs holds the attributes without a namespace; it is only looked up.
type attrs map[string]string

func attributes(t xml.StartElement) attrs {
	a := make(attrs, len(t.Attr))
	for _, x := range t.Attr {
		if x.Name.Space == "" {
			a[x.Name.Local] = x.Value
		}
	}
	return a
}

func (m *modelReader) number(a attrs, name string) (float64, error) {
	return m.parse(name, a[name])
}

func (m *modelReader) parse(name, s string) (float64, error) {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || x-x != 0 {
		return 0, m.fault("%s=%q is not a finite number", name, short(s))
	}
	return x, nil
}

func (m *modelReader) index(a attrs, name string) (int32, error) {
	v, err := strconv.ParseInt(a[name], 10, 32)
	if err != nil || v < 0 {
		return 0, m.fault("%s=%q is not an index", name, short(a[name]))
	}
	return int32(v), nil
}

// reference reads objectid and transform.
func (m *modelReader) reference(a attrs) (int, solid.Transform, error) {
	object, known := m.byID[a["objectid"]]
	if !known || object < 0 {
		return 0, solid.Transform{}, m.fault("objectid %q names no object before it", short(a["objectid"]))
	}
	t := solid.Identity()
	text := a["transform"]
	if text == "" {
		return object, t, nil
	}
	words := strings.Fields(text)
	if len(words) != 12 {
		return 0, t, m.fault("transform has %d numbers, want 12", len(words))
	}
	for k, w := range words {
		x, err := m.parse("transform", w)
		if err != nil {
			return 0, t, err
		}
		if k < 9 {
			t.M[k%3][k/3] = x // rows of the file are images of the axes
		} else {
			t.T[k-9] = x * m.scale
		}
	}
	if t.T.Sub(t.T) != (solid.Vec{}) {
		return 0, t, m.fault("transform is too large")
	}
	if _, ok := t.Inverse(); !ok {
		return 0, t, m.fault("transform flattens the object (determinant %g)", t.Det())
	}
	return object, t, nil
}
