package recipe

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"

	"scalewright/finding"
)

// Codec turns what a stage made into bytes for the disk and back. Decode is
// handed bytes of any earlier program too, and must answer with an error, never
// with a wrong value, where they are not its own.
type Codec[T any] interface {
	Encode(T) ([]byte, error)
	Decode([]byte) (T, error)
}

// Plain is a codec for data: types made of exported fields. It gives back the
// very same value, -0, NaN and nil slices included, and equal values give equal
// bytes. (encoding/gob was tried on paper: it turns a pointer to zero into nil,
// -0 into 0, and leaves unexported fields out in silence.) The bytes begin with
// the print of T, so that those of another make-up are refused.
//
// Interfaces inside T hold the arguments of findings, or one of the types of
// the values given as known. A type that cannot be written is a bug of ours and
// panics here, when the codec is made.
func Plain[T any](known ...any) Codec[T] {
	c := plain[T]{types: map[typePrint]reflect.Type{}}
	for _, k := range append(known, arguments...) {
		c.types[mustPrint(reflect.TypeOf(k))] = reflect.TypeOf(k)
	}
	c.of = mustPrint(reflect.TypeFor[T]())
	return c
}

// What the arguments of a finding can be.
var arguments = []any{
	finding.Long(0), finding.Size(0), finding.Fine(0), finding.Name(""),
	finding.Count(0), finding.Number(0), finding.Span(0), finding.Weight(0),
}

func mustPrint(t reflect.Type) typePrint {
	p, err := printOf(t)
	if err == nil {
		err = settable(t, map[reflect.Type]bool{})
	}
	if err != nil {
		panic(fmt.Sprintf("recipe: internal error: no plain codec for %s: %v", t, err))
	}
	return p
}

// settable refuses types with fields that a decoder cannot set, and those of
// which any number fits into no bytes at all.
func settable(t reflect.Type, seen map[reflect.Type]bool) error {
	if seen[t] {
		return nil
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Array, reflect.Slice, reflect.Pointer:
		if t.Kind() == reflect.Slice && t.Elem().Size() == 0 {
			return errors.New("a slice of nothing")
		}
		return settable(t.Elem(), seen)
	case reflect.Map:
		if t.Key().Size() == 0 {
			return errors.New("a map from nothing")
		}
		return errors.Join(settable(t.Key(), seen), settable(t.Elem(), seen))
	case reflect.Struct:
		for f := range t.Fields() {
			if !f.IsExported() {
				return within("."+f.Name, errors.New("an unexported field"))
			}
			if err := settable(f.Type, seen); err != nil {
				return within("."+f.Name, err)
			}
		}
	}
	return nil
}

type plain[T any] struct {
	of    typePrint
	types map[typePrint]reflect.Type
}

// Encode writes the print of T and the value.
func (c plain[T]) Encode(value T) ([]byte, error) {
	e := encoder{buf: bytes.Clone(c.of[:]), exact: true}
	err := e.value(reflect.ValueOf(&value).Elem())
	return e.buf, err
}

// Decode reads what Encode wrote.
func (c plain[T]) Decode(data []byte) (T, error) {
	var value T
	rest, ok := bytes.CutPrefix(data, c.of[:])
	if !ok {
		return value, errors.New("not a value of this type")
	}
	d := decoder{rest: rest, types: c.types}
	if err := d.value(reflect.ValueOf(&value).Elem()); err != nil {
		return *new(T), err
	}
	if len(d.rest) > 0 {
		return *new(T), fmt.Errorf("%d bytes are left over", len(d.rest))
	}
	return value, nil
}
