package recipe_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"
	"unsafe"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/unit"
)

// The colours are an enum like those of the house.
type colour uint8

const (
	red colour = iota
	blue
)

type inner struct {
	Name  string
	Sizes []unit.Length
}

type sample struct {
	ID     string
	Count  int
	Ratio  float64
	Colour colour
	Inner  *inner
	Parts  []inner
	Index  map[string]int
	Args   finding.Args
	Key    recipe.Key
	Flags  [3]bool
	hidden int
}

func TestOfTellsApart(t *testing.T) {
	one := 1.0
	type lengths struct{ A, B unit.Length }
	type swapped struct{ B, A unit.Length }
	type renamed struct{ A, C unit.Length }
	// Each line differs from every other one.
	values := map[string]recipe.Key{
		"nothing":             recipe.Of("fit", 1),
		"another stage":       recipe.Of("fi", 1),
		"another version":     recipe.Of("fit", 2),
		"nil":                 recipe.Of("fit", 1, nil),
		"two nils":            recipe.Of("fit", 1, nil, nil),
		"false":               recipe.Of("fit", 1, false),
		"int":                 recipe.Of("fit", 1, 1),
		"minus":               recipe.Of("fit", 1, -1),
		"int8":                recipe.Of("fit", 1, int8(1)),
		"uint8":               recipe.Of("fit", 1, uint8(1)),
		"enum":                recipe.Of("fit", 1, blue),
		"another of the enum": recipe.Of("fit", 1, red),
		"float":               recipe.Of("fit", 1, one),
		"float32":             recipe.Of("fit", 1, float32(1)),
		"next float":          recipe.Of("fit", 1, math.Nextafter(1, 2)),
		"complex":             recipe.Of("fit", 1, complex(1, 2)),
		"complex turned":      recipe.Of("fit", 1, complex(2, 1)),
		"infinite":            recipe.Of("fit", 1, math.Inf(1)),
		"length":              recipe.Of("fit", 1, unit.Length(1)),
		"mass":                recipe.Of("fit", 1, unit.Mass(1)),
		"pointer":             recipe.Of("fit", 1, &one),
		"nil pointer":         recipe.Of("fit", 1, (*float64)(nil)),
		"string":              recipe.Of("fit", 1, "a"),
		"two strings":         recipe.Of("fit", 1, "a", "b"),
		"joined strings":      recipe.Of("fit", 1, "ab"),
		"parted elsewhere":    recipe.Of("fit", 1, "", "ab"),
		"list":                recipe.Of("fit", 1, []string{"a", "b"}),
		"joined list":         recipe.Of("fit", 1, []string{"ab"}),
		"parted list":         recipe.Of("fit", 1, []string{"ab", ""}),
		"other order":         recipe.Of("fit", 1, []string{"b", "a"}),
		"two lists":           recipe.Of("fit", 1, [][]string{{"a"}, {"b"}}),
		"one list of two":     recipe.Of("fit", 1, [][]string{{"a", "b"}, {}}),
		"array":               recipe.Of("fit", 1, [2]string{"a", "b"}),
		"bytes":               recipe.Of("fit", 1, []byte("ab")),
		"map":                 recipe.Of("fit", 1, map[string]string{"a": "b"}),
		"map turned":          recipe.Of("fit", 1, map[string]string{"b": "a"}),
		"struct":              recipe.Of("fit", 1, lengths{1, 2}),
		"fields swapped":      recipe.Of("fit", 1, swapped{2, 1}),
		"field renamed":       recipe.Of("fit", 1, renamed{1, 2}),
		"nameless":            recipe.Of("fit", 1, struct{ A, B int }{1, 2}),
		"nameless renamed":    recipe.Of("fit", 1, struct{ A, C int }{1, 2}),
		"nameless retyped":    recipe.Of("fit", 1, struct{ A, B int8 }{1, 2}),
		"values swapped":      recipe.Of("fit", 1, lengths{2, 1}),
		"unexported field":    recipe.Of("fit", 1, sample{hidden: 1}),
		"zero struct":         recipe.Of("fit", 1, sample{}),
		"list of any":         recipe.Of("fit", 1, []any{1, "a"}),
		"typed otherwise":     recipe.Of("fit", 1, []any{int64(1), "a"}),
		"argument":            recipe.Of("fit", 1, finding.Args{"a": finding.Size(1)}),
		"other argument":      recipe.Of("fit", 1, finding.Args{"a": finding.Fine(1)}),
		"key":                 recipe.Of("fit", 1, recipe.Of("fit", 1)),
		"content":             recipe.Content([]byte("ab")),
		"empty content":       recipe.Content(nil),
	}
	seen := map[recipe.Key]string{}
	for name, key := range values {
		if twin := seen[key]; twin != "" {
			t.Errorf("%s and %s have the same key", name, twin)
		}
		seen[key] = name
	}
}

func TestOfFoldsEquals(t *testing.T) {
	x, y := 2.5, 2.5
	for _, pair := range []struct {
		name string
		a, b any
	}{
		{"minus zero", math.Copysign(0, -1), 0.0},
		{"minus zero in a length", []unit.Length{unit.Length(math.Copysign(0, -1))}, []unit.Length{0}},
		{"nil slice", []int(nil), []int{}},
		{"nil map", map[string]int(nil), map[string]int{}},
		{"pointers", &x, &y},
		{"room to grow", make([]int, 2, 90), make([]int, 2)},
		{"blank fields", struct{ _, A int }{A: 1}, struct{ _, A int }{A: 1}},
		{"keys that point", map[*float64]int{&x: 1, &y: 2}, map[*float64]int{&y: 1, &x: 2}},
	} {
		if recipe.Of("fit", 1, pair.a) != recipe.Of("fit", 1, pair.b) {
			t.Errorf("%s: the keys differ", pair.name)
		}
	}
}

type (
	ring struct{ Next *ring }
	nest []any
	verb func()
)

func TestOfRefuses(t *testing.T) {
	loop := &ring{}
	loop.Next = loop
	self := nest{nil}
	self[0] = self
	for _, c := range []struct {
		name, want string
		in         any
	}{
		{"NaN", "NaN is no figure", math.NaN()},
		{"deep NaN", ".Parts[1].Sizes[0]: NaN", sample{Parts: []inner{{}, {Sizes: []unit.Length{unit.Length(math.NaN())}}}}},
		{"function", "a function", func() {}},
		{"nil function in a struct", ".Do: a function", struct{ Do func() }{}},
		{"channel", "a channel", make(chan int)},
		{"clock", "a time of the clock", time.Time{}},
		{"lock", "a lock (sync.Mutex)", &sync.Mutex{}},
		{"raw pointer", "a raw pointer", unsafe.Pointer(nil)},
		{"address", "a raw pointer", uintptr(1)},
		{"nameless in an interface", "a type without a name", []any{[]int{1}}},
		{"function in an interface", "a function", []any{verb(nil)}},
		{"ring", "does it hold itself?", loop},
		{"list of itself", "hold itself?", self},
	} {
		t.Run(c.name, func(t *testing.T) {
			defer func() {
				if got := fmt.Sprint(recover()); !strings.Contains(got, c.want) || !strings.Contains(got, "recipe: internal error: stage fit, input 0") {
					t.Errorf("Of(%s) panics with %q, want %q", c.name, got, c.want)
				}
			}()
			recipe.Of("fit", 1, c.in)
			t.Error("not refused")
		})
	}
}

// The bytes that are hashed stand in doc comments only; the written-out hash
// here is put together from those by hand, sharing no code.
func TestOfByHand(t *testing.T) {
	var want bytes.Buffer
	be := func(n int) { want.Write([]byte{0, 0, 0, 0, 0, 0, byte(n >> 8), byte(n)}) }
	want.WriteString("scalewright stage 1\x00")
	be(3)
	want.WriteString("fit")
	be(7) // version
	be(2) // inputs
	want.WriteByte(1)
	text := sha256.Sum256([]byte(`".string"string`))
	want.Write(text[:])
	be(2)
	want.WriteString("ab")
	want.WriteByte(1)
	length := sha256.Sum256([]byte(`slice"scalewright/unit.Length"float64`))
	want.Write(length[:])
	be(1)
	want.Write([]byte{0x3f, 0xf8, 0, 0, 0, 0, 0, 0}) // 1.5, IEEE 754: exponent 1023, fraction 1/2
	if got := recipe.Of("fit", 7, "ab", []unit.Length{1.5}); got != recipe.Key(sha256.Sum256(want.Bytes())) {
		t.Errorf("Of = %s", got)
	}
}

func drawSample(t *rapid.T) sample {
	text := rapid.StringOfN(rapid.RuneFrom([]rune("ab\x00")), 0, 3, -1)
	size := rapid.Custom(func(t *rapid.T) unit.Length { return unit.Length(rapid.IntRange(-1, 1).Draw(t, "mm")) })
	in := rapid.Custom(func(t *rapid.T) inner {
		return inner{text.Draw(t, "name"), rapid.SliceOfN(size, 0, 2).Draw(t, "sizes")}
	})
	arg := rapid.Custom(func(t *rapid.T) finding.Arg {
		return rapid.SampledFrom([]finding.Arg{nil, finding.Size(1), finding.Fine(1), finding.Name("a")}).Draw(t, "arg")
	})
	return sample{
		ID: text.Draw(t, "id"), Count: rapid.IntRange(0, 1).Draw(t, "count"),
		Ratio: float64(rapid.IntRange(0, 1).Draw(t, "ratio")), Colour: rapid.SampledFrom([]colour{red, blue}).Draw(t, "colour"),
		Inner: rapid.Ptr(in, true).Draw(t, "inner"), Parts: rapid.SliceOfN(in, 0, 2).Draw(t, "parts"),
		Index: rapid.MapOfN(text, rapid.IntRange(0, 1), 0, 2).Draw(t, "index"),
		Args:  rapid.MapOfN(text, arg, 0, 2).Draw(t, "args"),
		Key:   recipe.Of("x", rapid.IntRange(0, 1).Draw(t, "key")), hidden: rapid.IntRange(0, 1).Draw(t, "hidden"),
	}
}

// Keys are equal just when values are. Small alphabets make equal draws likely.
func TestOfIsFaithful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSample(t), drawSample(t)
		if rapid.Bool().Draw(t, "mostly the same") {
			count := b.Count
			b = a
			b.Count = count
		}
		same := reflect.DeepEqual(emptied(a), emptied(b))
		if got := recipe.Of("fit", 1, a) == recipe.Of("fit", 1, b); got != same {
			t.Fatalf("keys equal: %v, values equal: %v\n%#v\n%#v", got, same, a, b)
		}
	})
}

// emptied makes nil of what is empty, as the keys do.
func emptied(s sample) sample {
	tidy := func(in inner) inner {
		if len(in.Sizes) == 0 {
			in.Sizes = nil
		}
		return in
	}
	if s.Inner != nil {
		in := tidy(*s.Inner)
		s.Inner = &in
	}
	var parts []inner
	for _, p := range s.Parts {
		parts = append(parts, tidy(p))
	}
	s.Parts = parts
	if len(s.Index) == 0 {
		s.Index = nil
	}
	if len(s.Args) == 0 {
		s.Args = nil
	}
	return s
}

// Lists of strings, cut anywhere, never run into one another.
func TestOfNeverRunsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.StringOfN(rapid.RuneFrom([]rune("a\x00\x01")), 0, 2, -1), 0, 4)
		a, b := list.Draw(t, "a"), list.Draw(t, "b")
		same := len(a) == len(b) && strings.Join(a, "|") == strings.Join(b, "|")
		if got := recipe.Of("s", 1, a) == recipe.Of("s", 1, b); got != same {
			t.Fatalf("%q and %q: keys equal %v", a, b, got)
		}
		loose := func(list []string) recipe.Key {
			var in []any
			for _, s := range list {
				in = append(in, s)
			}
			return recipe.Of("s", 1, in...)
		}
		if got := loose(a) == loose(b); got != same {
			t.Fatalf("%q and %q as inputs: keys equal %v", a, b, got)
		}
	})
}

func TestKeyText(t *testing.T) {
	k := recipe.Of("fit", 1)
	text, _ := k.MarshalText()
	if len(k.String()) != 64 || string(text) != k.String() || !strings.HasPrefix(k.String(), k.Short()) || len(k.Short()) != 12 {
		t.Errorf("String %q, MarshalText %q, Short %q", k, text, k.Short())
	}
}

func BenchmarkOf(b *testing.B) {
	in := sample{ID: "body", Parts: make([]inner, 100)}
	for i := range in.Parts {
		in.Parts[i] = inner{"part", make([]unit.Length, 20)}
	}
	b.ReportAllocs()
	for b.Loop() {
		recipe.Of("fit", 1, in)
	}
}
