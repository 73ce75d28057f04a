package recipe

import (
	"errors"
	"fmt"
	"runtime/debug"
)

// Bug is a panic of ours, caught: the stage it came from, what was thrown, and
// the stack of where. Faces show the message and write the stack to the log.
type Bug struct {
	Stage string
	Value any
	Stack []byte
}

// Error says what happened, in one line; the stack is in Stack.
func (b *Bug) Error() string {
	if b.Stage == "" {
		return fmt.Sprintf("our bug: %v", b.Value)
	}
	return fmt.Sprintf("our bug in stage %s: %v", b.Stage, b.Value)
}

// Unwrap is the error that was thrown, where it was one.
func (b *Bug) Unwrap() error {
	err, _ := b.Value.(error)
	return err
}

// caught makes a Bug of what recover gave, once: a Bug that is on its way up
// keeps its stack and its first stage.
func caught(stage string, thrown any) *Bug {
	b, ok := thrown.(*Bug)
	if !ok {
		return &Bug{stage, thrown, debug.Stack()}
	}
	if b.Stage == "" {
		return &Bug{stage, b.Value, b.Stack}
	}
	return b
}

// Guard runs work and turns a panic inside into a [Bug] of that stage. [Do]
// guards by itself.
func Guard[T any](stage string, work func() (T, error)) (value T, err error) {
	defer func() {
		if thrown := recover(); thrown != nil {
			value, err = *new(T), caught(stage, thrown)
		}
	}()
	value, err = work()
	// Work that hands on the Bug of an item has no name to give it; we have.
	if b, ok := errors.AsType[*Bug](err); ok && b.Stage == "" {
		err = caught(stage, b)
	}
	return value, err
}
