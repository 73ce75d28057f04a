package recipe

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sync"
)

// An encoder turns values into bytes that read one way only: whatever has no
// fixed length is written after its length. Equal values give equal bytes.
//
// With exact it writes what a decoder needs to give back the very same value:
// -0, NaN and nil slices as they are. A recipe folds or refuses those.
type encoder struct {
	buf   []byte
	exact bool
	depth int
}

// Deepest nesting of a value. The deepest of the house have about ten levels;
// past a thousand a value holds itself.
const mostDepth = 1000

// A pathError says where in a value something is wrong.
type pathError struct {
	path string
	err  error
}

func (e *pathError) Error() string { return e.path + ": " + e.err.Error() }
func (e *pathError) Unwrap() error { return e.err }

func within(path string, err error) error {
	if inner, ok := errors.AsType[*pathError](err); ok {
		return &pathError{path + inner.path, inner.err}
	}
	return &pathError{path, err}
}

func (e *encoder) word(x uint64) { e.buf = binary.BigEndian.AppendUint64(e.buf, x) }

func (e *encoder) text(s string) {
	e.word(uint64(len(s)))
	e.buf = append(e.buf, s...)
}

func (e *encoder) flag(b bool) {
	if b {
		e.buf = append(e.buf, 1)
	} else {
		e.buf = append(e.buf, 0)
	}
}

// dynamic writes a value whose type is not known beforehand: the print of the
// type, then the value. Inside of values the type must have a name, or point at
// one that has.
func (e *encoder) dynamic(v reflect.Value, inside bool) error {
	e.flag(v.IsValid())
	if !v.IsValid() {
		return nil
	}
	if inside && !named(v.Type()) {
		return fmt.Errorf("an interface holds %s, a type without a name", v.Type())
	}
	p, err := printOf(v.Type())
	if err != nil {
		return err
	}
	e.buf = append(e.buf, p[:]...)
	return e.value(v)
}

func named(t reflect.Type) bool {
	return t.Name() != "" || t.Kind() == reflect.Pointer && t.Elem().Name() != ""
}

// value writes a value of a type that the reader knows.
func (e *encoder) value(v reflect.Value) error {
	if e.depth++; e.depth > mostDepth {
		return fmt.Errorf("a value of type %s is nested past %d levels: does it hold itself?", v.Type(), mostDepth)
	}
	defer func() { e.depth-- }()
	switch v.Kind() {
	case reflect.Bool:
		e.flag(v.Bool())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		e.word(uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		e.word(v.Uint())
	case reflect.Float32, reflect.Float64:
		return e.float(v.Float())
	case reflect.Complex64, reflect.Complex128:
		return errors.Join(e.float(real(v.Complex())), e.float(imag(v.Complex())))
	case reflect.String:
		e.text(v.String())
	case reflect.Array:
		return e.elements(v)
	case reflect.Slice:
		return e.slice(v)
	case reflect.Map:
		return e.pairs(v)
	case reflect.Struct:
		return e.fields(v)
	case reflect.Pointer:
		e.flag(!v.IsNil())
		if v.IsNil() {
			return nil
		}
		return e.value(v.Elem())
	case reflect.Interface:
		return e.dynamic(v.Elem(), true)
	default:
		return fmt.Errorf("%s cannot be an input", v.Kind())
	}
	return nil
}

func (e *encoder) float(x float64) error {
	if !e.exact {
		if math.IsNaN(x) {
			return errors.New("NaN is no figure")
		}
		if x == 0 {
			x = 0 // -0 becomes 0
		}
	}
	e.word(math.Float64bits(x))
	return nil
}

// count writes a length; with exact, 0 is nil and n is n-1 things.
func (e *encoder) count(n int, isNil bool) {
	if e.exact && !isNil {
		n++
	}
	e.word(uint64(n))
}

func (e *encoder) slice(v reflect.Value) error {
	e.count(v.Len(), v.IsNil())
	return e.elements(v)
}

// elements writes what an array or slice holds; bytes as they are.
func (e *encoder) elements(v reflect.Value) error {
	if v.Type().Elem().Kind() == reflect.Uint8 {
		for i := range v.Len() {
			e.buf = append(e.buf, byte(v.Index(i).Uint()))
		}
		return nil
	}
	for i := range v.Len() {
		if err := e.value(v.Index(i)); err != nil {
			return within(fmt.Sprintf("[%d]", i), err)
		}
	}
	return nil
}

func (e *encoder) fields(v reflect.Value) error {
	for _, i := range counting(v.Type()) {
		if err := e.value(v.Field(i)); err != nil {
			return within("."+v.Type().Field(i).Name, err)
		}
	}
	return nil
}

var countings sync.Map // reflect.Type to []int: a type never changes

// counting lists the fields that count, by index: all but those named _. It is
// remembered since reflect allocates each time it is asked for a field's name.
func counting(t reflect.Type) []int {
	if known, ok := countings.Load(t); ok {
		return known.([]int)
	}
	var list []int
	for f := range t.Fields() {
		if f.Name != "_" {
			list = append(list, f.Index[0])
		}
	}
	countings.Store(t, list)
	return list
}

// pairs writes a map in the order of its encoded pairs. Key and value together
// decide, so that keys which point at equal things make no odds.
func (e *encoder) pairs(v reflect.Value) error {
	e.count(v.Len(), v.IsNil())
	var pairs [][]byte
	for it := v.MapRange(); it.Next(); {
		one := encoder{exact: e.exact, depth: e.depth}
		if err := errors.Join(one.value(it.Key()), one.value(it.Value())); err != nil {
			return within("[of a map]", err)
		}
		pairs = append(pairs, one.buf)
	}
	slices.SortFunc(pairs, bytes.Compare)
	for _, p := range pairs {
		e.buf = append(e.buf, p...)
	}
	return nil
}
