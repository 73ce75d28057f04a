package recipe

import (
	"reflect"
	"sync"
)

// Sized is a value that knows how many bytes it holds.
type Sized interface{ Bytes() int }

// sizeOf is about how many bytes a value holds, itself included. Sized values
// are asked, all others counted. What two pointers share counts twice, which
// errs towards remembering less.
func sizeOf(v reflect.Value, depth int) int {
	if !v.IsValid() || depth > mostDepth {
		return 0
	}
	if v.Kind() != reflect.Interface && v.CanInterface() {
		if s, ok := v.Interface().(Sized); ok && (v.Kind() != reflect.Pointer || !v.IsNil()) {
			return max(int(v.Type().Size()), s.Bytes())
		}
	}
	return int(v.Type().Size()) + beyond(v, depth)
}

// beyond is what a value holds outside of its own memory.
func beyond(v reflect.Value, depth int) int {
	if depth > mostDepth || flat(v.Type()) {
		return 0
	}
	n := 0
	switch v.Kind() {
	case reflect.String:
		n = v.Len()
	case reflect.Slice:
		n = v.Cap() * int(v.Type().Elem().Size())
		if flat(v.Type().Elem()) {
			return n
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			n += sizeOf(v.Index(i), depth+1) - int(v.Type().Elem().Size())
		}
	case reflect.Map:
		for it := v.MapRange(); it.Next(); {
			n += sizeOf(it.Key(), depth+1) + sizeOf(it.Value(), depth+1)
		}
	case reflect.Struct:
		for field, held := range v.Fields() {
			n += sizeOf(held, depth+1) - int(field.Type.Size())
		}
	case reflect.Pointer, reflect.Interface:
		n = sizeOf(v.Elem(), depth+1)
	}
	return n
}

var flats sync.Map // reflect.Type to bool: a type never changes

// flat reports whether values of the type hold nothing outside of their own
// memory and have no say in their size.
func flat(t reflect.Type) bool {
	if known, ok := flats.Load(t); ok {
		return known.(bool)
	}
	is := false
	switch k := t.Kind(); {
	case t.Implements(reflect.TypeFor[Sized]()):
	case k <= reflect.Complex128:
		is = true
	case k == reflect.Array:
		is = flat(t.Elem())
	case k == reflect.Struct:
		is = true
		for field := range t.Fields() {
			is = is && flat(field.Type)
		}
	}
	flats.Store(t, is)
	return is
}
