package recipe

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"reflect"
)

// Key names a result by how it was made. The zero Key names nothing.
type Key [sha256.Size]byte

// Short is the first 12 of the 64 hex digits, for people and for logs.
func (k Key) Short() string { return k.String()[:12] }

// String is the key in hex digits.
func (k Key) String() string { return hex.EncodeToString(k[:]) }

// MarshalText writes String.
func (k Key) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Each kind of key begins its hash with a word of its own, so that none can be
// taken for another. The figure is the version of the encoding.
const (
	stagePrefix   = "scalewright stage 1\x00"
	contentPrefix = "scalewright content 1\x00"
)

// Of is the key of what a stage of this version makes from these inputs.
//
// Inputs may be of any type made of booleans, numbers, strings, structs,
// arrays, slices, maps, pointers and interfaces. What counts:
//
//   - The type: its package, name and make-up. Adding, removing, renaming,
//     retyping or reordering a field gives another key, at the price of one
//     recomputation.
//   - Every field, unexported ones too: what a stage can see can change its
//     result. A stage's input holds only what the stage may look at. Only
//     fields named _ are left out.
//   - Order in slices; not in maps, which have none.
//   - What a pointer points at, not where it stands. Nil is unlike a pointer to
//     a zero.
//
// What does not count: nil and empty slices or maps are the same, and so are
// -0 and 0, since Go's == calls them equal.
//
// An input that cannot be told apart from another is a bug of ours and panics:
// NaN, functions, channels, times of the clock, locks, raw pointers, values
// that hold themselves, and interfaces that hold a type without a name.
func Of(stage string, version int, inputs ...any) Key {
	e := encoder{buf: []byte(stagePrefix)}
	e.text(stage)
	e.word(uint64(int64(version)))
	e.word(uint64(len(inputs)))
	for i, in := range inputs {
		if err := e.dynamic(reflect.ValueOf(in), false); err != nil {
			panic(fmt.Sprintf("recipe: internal error: stage %s, input %d: %v", stage, i, err))
		}
	}
	return sha256.Sum256(e.buf)
}

// Content is the key of bytes that came from outside, such as a photograph.
func Content(data []byte) Key {
	h := sha256.New()
	h.Write([]byte(contentPrefix))
	h.Write(binary.BigEndian.AppendUint64(nil, uint64(len(data))))
	h.Write(data)
	return Key(h.Sum(nil))
}
