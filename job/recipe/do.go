package recipe

import (
	"context"
	"fmt"
	"reflect"
)

// Do is the result of work, remembered under its key: recalled from memory or
// disk where it is there, else worked for once by whoever asked first, while
// others who ask for it wait.
//
// Work gets the caller's context. When that is cancelled the caller gets its
// error, nothing is kept, and those who waited start over under their own
// context. An error of the work goes to all who waited and is not kept. A panic
// inside comes back as a [Bug].
//
// Work that asks for its own key would wait for itself for ever; that is a bug
// of ours and panics.
func Do[T any](ctx context.Context, m *Memo, key Key, stage Stage[T], work func(context.Context) (T, error)) (T, error) {
	var none T
	if m == nil {
		return run(ctx, stage.Name, work)
	}
	if inside(ctx, key) {
		panic(fmt.Sprintf("recipe: internal error: stage %s asks for its own result %s", stage.Name, key.Short()))
	}
	for {
		if err := ctx.Err(); err != nil {
			return none, err
		}
		value, found, f, mine := m.begin(key, stage.Name)
		if found {
			return as[T](value, stage.Name)
		}
		if mine {
			return fly(ctx, m, key, stage, f, work)
		}
		select {
		case <-ctx.Done():
			return none, ctx.Err()
		case <-f.done:
		}
		switch {
		case f.gaveUp:
			continue
		case f.err != nil:
			return none, f.err
		}
		m.countShared(stage.Name)
		return as[T](f.value, stage.Name)
	}
}

// fly brings the value from disk or by work, and lands the flight whatever
// happens: also when the work leaves by runtime.Goexit, as a failing test does.
func fly[T any](ctx context.Context, m *Memo, key Key, stage Stage[T], f *flight, work func(context.Context) (T, error)) (T, error) {
	var bytes int
	var fromDisk bool
	value, err := func() (T, error) {
		defer func() { m.land(key, stage.Name, f, bytes, fromDisk) }()
		value, ok := recall(m, key, stage)
		if ok {
			fromDisk = true
		} else {
			var err error
			value, err = run(context.WithValue(ctx, linkKey{}, &link{key, linkOf(ctx)}), stage.Name, work)
			f.err = err
			if cancelled := ctx.Err(); cancelled != nil {
				return value, orElse(err, cancelled)
			}
		}
		if f.err == nil {
			f.value, bytes = value, stage.bytes(value)
		}
		f.gaveUp = false
		return value, f.err
	}()
	if err != nil {
		return *new(T), err
	}
	if !fromDisk {
		keep(m, key, stage, value)
	}
	return value, nil
}

// run does the work under guard.
func run[T any](ctx context.Context, stage string, work func(context.Context) (T, error)) (T, error) {
	return Guard(stage, func() (T, error) { return work(ctx) })
}

// recall reads a value from disk. What does not decode is as good as absent.
func recall[T any](m *Memo, key Key, stage Stage[T]) (T, bool) {
	if m.keeper == nil || stage.Codec == nil {
		return *new(T), false
	}
	data, ok := m.keeper.Get(key)
	if !ok {
		return *new(T), false
	}
	value, err := stage.Codec.Decode(data)
	return value, err == nil
}

func keep[T any](m *Memo, key Key, stage Stage[T], value T) {
	if m.keeper == nil || stage.Codec == nil {
		return
	}
	data, err := stage.Codec.Encode(value)
	if err == nil {
		err = m.keeper.Put(key, data)
	}
	if err != nil {
		m.keepFailed(fmt.Errorf("keep a result of stage %s: %w", stage.Name, err))
	}
}

func (s Stage[T]) bytes(value T) int {
	if s.Size != nil {
		return s.Size(value)
	}
	return sizeOf(reflect.ValueOf(&value).Elem(), 0)
}

// as is a remembered value as its type. Another type under the same key means
// that two stages share a name.
func as[T any](value any, stage string) (T, error) {
	if value == nil { // T is an interface, and nil was remembered
		return *new(T), nil
	}
	v, ok := value.(T)
	if !ok {
		panic(fmt.Sprintf("recipe: internal error: stage %s remembered a %T, not a %s", stage, value, reflect.TypeFor[T]()))
	}
	return v, nil
}

func orElse(err, other error) error {
	if err != nil {
		return err
	}
	return other
}

// Each Do leaves its key in the context of its work, linked to the key of the
// Do it was called from.
type (
	linkKey struct{}
	link    struct {
		key    Key
		within *link
	}
)

func linkOf(ctx context.Context) *link {
	l, _ := ctx.Value(linkKey{}).(*link)
	return l
}

func inside(ctx context.Context, key Key) bool {
	for l := linkOf(ctx); l != nil; l = l.within {
		if l.key == key {
			return true
		}
	}
	return false
}
