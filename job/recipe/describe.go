package recipe

import (
	"crypto/sha256"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A typePrint is the hash of a type's description.
type typePrint [sha256.Size]byte

var prints sync.Map // reflect.Type to func() (typePrint, error): a type never changes

// printOf is the hash of a type's full description: package, name and make-up,
// down to the basic types. It refuses types whose values cannot be compared.
func printOf(t reflect.Type) (typePrint, error) {
	once, found := prints.Load(t)
	if !found {
		once, _ = prints.LoadOrStore(t, sync.OnceValues(func() (typePrint, error) {
			d := describer{seen: map[reflect.Type]bool{}}
			err := d.write(t)
			return sha256.Sum256([]byte(d.text.String())), err
		}))
	}
	return once.(func() (typePrint, error))()
}

type describer struct {
	text strings.Builder
	seen map[reflect.Type]bool
}

// write describes a type. A named type that stands further left is written by
// name alone, which ends the recursion of types that hold themselves.
func (d *describer) write(t reflect.Type) error {
	if name := refused(t); name != "" {
		return fmt.Errorf("%s cannot be an input", name)
	}
	if t.Name() != "" {
		d.text.WriteString(strconv.Quote(t.PkgPath() + "." + t.Name()))
		if d.seen[t] {
			return nil
		}
		d.seen[t] = true
	}
	d.text.WriteString(t.Kind().String())
	switch t.Kind() {
	case reflect.Array:
		fmt.Fprintf(&d.text, "[%d]", t.Len())
		return d.write(t.Elem())
	case reflect.Slice, reflect.Pointer:
		return d.write(t.Elem())
	case reflect.Map:
		if err := d.write(t.Key()); err != nil {
			return err
		}
		return d.write(t.Elem())
	case reflect.Struct:
		return d.fields(t)
	}
	return nil
}

func (d *describer) fields(t reflect.Type) error {
	d.text.WriteByte('{')
	for f := range t.Fields() {
		if f.Name == "_" {
			continue
		}
		d.text.WriteString(strconv.Quote(f.Name))
		if err := d.write(f.Type); err != nil {
			return within("."+f.Name, err)
		}
		d.text.WriteByte(';')
	}
	d.text.WriteByte('}')
	return nil
}

// refused names a type that has no value to compare, or one that changes by
// itself; empty when the type will do.
func refused(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Func:
		return "a function"
	case reflect.Chan:
		return "a channel"
	case reflect.UnsafePointer, reflect.Uintptr:
		return "a raw pointer"
	}
	switch t.PkgPath() {
	case "sync", "sync/atomic", "internal/sync":
		return "a lock (" + t.String() + ")"
	}
	if t == reflect.TypeFor[time.Time]() || t == reflect.TypeFor[time.Location]() {
		return "a time of the clock (" + t.String() + ")"
	}
	return ""
}
