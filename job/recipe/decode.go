package recipe

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"reflect"
)

// A decoder reads what an exact [encoder] wrote. It believes nothing: counts
// are weighed against what is left before anything is allocated.
type decoder struct {
	rest  []byte
	types map[typePrint]reflect.Type
	depth int
}

var errShort = errors.New("the bytes end too early")

func (d *decoder) take(n int) ([]byte, error) {
	if len(d.rest) < n {
		return nil, errShort
	}
	head := d.rest[:n]
	d.rest = d.rest[n:]
	return head, nil
}

func (d *decoder) word() (uint64, error) {
	b, err := d.take(8)
	if err != nil {
		return 0, err
	}
	return binary.BigEndian.Uint64(b), nil
}

func (d *decoder) flag() (bool, error) {
	b, err := d.take(1)
	if err != nil {
		return false, err
	}
	if b[0] > 1 {
		return false, fmt.Errorf("%d is neither yes nor no", b[0])
	}
	return b[0] == 1, nil
}

// count reads a length of things that take at least one byte each; -1 is nil.
func (d *decoder) count() (int, error) {
	n, err := d.word()
	if err != nil {
		return 0, err
	}
	if n > uint64(len(d.rest))+1 {
		return 0, errShort
	}
	return int(n) - 1, nil
}

// value reads into v, which can be set and is zero.
func (d *decoder) value(v reflect.Value) error {
	if d.depth++; d.depth > mostDepth {
		return fmt.Errorf("nested past %d levels", mostDepth)
	}
	defer func() { d.depth-- }()
	switch v.Kind() {
	case reflect.Bool:
		b, err := d.flag()
		v.SetBool(b)
		return err
	case reflect.String:
		return d.text(v)
	case reflect.Array:
		return d.elements(v)
	case reflect.Slice:
		return d.slice(v)
	case reflect.Map:
		return d.pairs(v)
	case reflect.Struct:
		return d.fields(v)
	case reflect.Pointer:
		there, err := d.flag()
		if err != nil || !there {
			return err
		}
		v.Set(reflect.New(v.Type().Elem()))
		return d.value(v.Elem())
	case reflect.Interface:
		return d.dynamic(v)
	}
	return d.number(v)
}

func (d *decoder) number(v reflect.Value) error {
	x, err := d.word()
	if err != nil {
		return err
	}
	switch {
	case v.CanInt():
		v.SetInt(int64(x))
		if v.Int() != int64(x) {
			return fmt.Errorf("%d does not fit %s", int64(x), v.Type())
		}
	case v.CanUint():
		v.SetUint(x)
		if v.Uint() != x {
			return fmt.Errorf("%d does not fit %s", x, v.Type())
		}
	case v.CanFloat():
		v.SetFloat(math.Float64frombits(x))
	default: // complex: two floats
		y, err := d.word()
		if err != nil {
			return err
		}
		v.SetComplex(complex(math.Float64frombits(x), math.Float64frombits(y)))
	}
	return nil
}

func (d *decoder) text(v reflect.Value) error {
	n, err := d.word()
	if err != nil {
		return err
	}
	if n > uint64(len(d.rest)) {
		return errShort
	}
	b, err := d.take(int(n))
	v.SetString(string(b))
	return err
}

func (d *decoder) slice(v reflect.Value) error {
	n, err := d.count()
	if err != nil || n < 0 {
		return err
	}
	v.Set(reflect.MakeSlice(v.Type(), 0, 0))
	// Grown as it is read: a count that lies costs no more than the bytes left.
	for i := range n {
		if i == v.Cap() {
			v.Grow(min(n-i, 1+i))
		}
		v.SetLen(i + 1)
		if err := d.element(v, i); err != nil {
			return err
		}
	}
	return nil
}

func (d *decoder) elements(v reflect.Value) error {
	for i := range v.Len() {
		if err := d.element(v, i); err != nil {
			return err
		}
	}
	return nil
}

func (d *decoder) element(v reflect.Value, i int) error {
	if v.Type().Elem().Kind() != reflect.Uint8 {
		return d.value(v.Index(i))
	}
	b, err := d.take(1)
	if err != nil {
		return err
	}
	v.Index(i).SetUint(uint64(b[0]))
	return nil
}

func (d *decoder) fields(v reflect.Value) error {
	for _, field := range v.Fields() {
		if err := d.value(field); err != nil {
			return err
		}
	}
	return nil
}

func (d *decoder) pairs(v reflect.Value) error {
	n, err := d.count()
	if err != nil || n < 0 {
		return err
	}
	t := v.Type()
	v.Set(reflect.MakeMap(t))
	for range n {
		key, value := reflect.New(t.Key()).Elem(), reflect.New(t.Elem()).Elem()
		if err := d.value(key); err != nil {
			return err
		}
		if !key.Comparable() {
			return errors.New("a map key that cannot be compared")
		}
		if err := d.value(value); err != nil {
			return err
		}
		v.SetMapIndex(key, value)
	}
	return nil
}

func (d *decoder) dynamic(v reflect.Value) error {
	there, err := d.flag()
	if err != nil || !there {
		return err
	}
	p, err := d.take(len(typePrint{}))
	if err != nil {
		return err
	}
	t, ok := d.types[typePrint(p)]
	if !ok || !t.AssignableTo(v.Type()) {
		return errors.New("an interface holds a type unknown here")
	}
	inner := reflect.New(t).Elem()
	if err := d.value(inner); err != nil {
		return err
	}
	v.Set(inner)
	return nil
}
