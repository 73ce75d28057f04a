package recipe_test

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/unit"
)

// A result like those of the house: figures with doubt, lists, findings.
type result struct {
	Done   bool
	Values []unit.Value
	ByID   map[string]unit.Minutes
	Core   *float64
	Next   *result
	Grid   [2][3]int32
	Raw    []byte
	Key    recipe.Key
	Small  int8
	Tiny   uint8
	Narrow float32
	Turn   complex128
	Found  finding.List
	Loose  any
}

// A face is of a type that only the codec's maker knows.
type face struct{ Area float64 }

func drawResult(t *rapid.T, depth int) result {
	float := rapid.OneOf(rapid.SampledFrom([]float64{0, math.Copysign(0, -1), math.Inf(-1), math.NaN()}), rapid.Float64())
	value := rapid.Custom(func(t *rapid.T) unit.Value {
		return unit.Value{X: float.Draw(t, "x"), U: float.Draw(t, "u"), Sources: rapid.SampledFrom([][]unit.Source{nil, {}, {{Name: "scale", U: 0.1}}}).Draw(t, "sources")}
	})
	r := result{
		Done: rapid.Bool().Draw(t, "done"), Values: rapid.SliceOfN(value, 0, 3).Draw(t, "values"),
		ByID:  rapid.MapOfN(rapid.String(), rapid.Custom(func(t *rapid.T) unit.Minutes { return unit.Minutes(rapid.Int().Draw(t, "min")) }), 0, 3).Draw(t, "by id"),
		Core:  rapid.Ptr(float, true).Draw(t, "core"),
		Raw:   rapid.SampledFrom([][]byte{nil, {}, {0, 255}}).Draw(t, "raw"),
		Small: rapid.Int8().Draw(t, "small"), Tiny: rapid.Uint8().Draw(t, "tiny"), Narrow: rapid.Float32().Draw(t, "narrow"),
		Turn: complex(float.Draw(t, "re"), float.Draw(t, "im")), Key: recipe.Of("x", rapid.Int().Draw(t, "key")),
		Loose: rapid.SampledFrom([]any{nil, finding.Name("a"), face{2}, &face{3}}).Draw(t, "loose"),
	}
	r.Grid[1][2] = rapid.Int32().Draw(t, "grid")
	if rapid.Bool().Draw(t, "finding") {
		r.Found.Add(finding.New("unknown-name", finding.Place{File: "build.yaml", Path: "core"},
			finding.Args{"name": finding.Name("tial"), "kind": finding.Name("part"), "hint": finding.Name("")}).AtStation(3).WithEdit(finding.Place{}, "tail"))
	}
	if depth > 0 && rapid.Bool().Draw(t, "next") {
		next := drawResult(t, depth-1)
		r.Next = &next
	}
	return r
}

func plainResult() recipe.Codec[result] { return recipe.Plain[result](face{}, &face{}) }

// What is written is read back to the last bit, and written the same again.
func TestPlainRoundTrip(t *testing.T) {
	codec := plainResult()
	rapid.Check(t, func(t *rapid.T) {
		want := drawResult(t, 2)
		data, err := codec.Encode(want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := codec.Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		again, err := codec.Encode(got)
		if err != nil || !bytes.Equal(data, again) {
			t.Fatalf("written again it differs: %v", err)
		}
		// %#v tells nil from empty and -0 from 0, and calls NaN equal to NaN.
		if a, b := spelled(want), spelled(got); a != b {
			t.Fatalf("read\n%s\nwant\n%s", b, a)
		}
	})
}

// spelled writes a value out with what its pointers point at.
func spelled(r result) string {
	next, core, loose := r.Next, r.Core, r.Loose
	r.Next, r.Core = nil, nil
	var b strings.Builder
	for i := range r.Found {
		fmt.Fprintf(&b, "%#v ", *r.Found[i].Edit)
		r.Found[i].Edit = nil
	}
	if p, ok := loose.(*face); ok {
		r.Loose = nil
		fmt.Fprintf(&b, "&%#v ", *p)
	}
	fmt.Fprintf(&b, "%#v", r)
	if core != nil {
		fmt.Fprintf(&b, " core %#v", *core)
	}
	if next != nil {
		b.WriteString("\n" + spelled(*next))
	}
	return b.String()
}

func TestPlainRefusesOthersBytes(t *testing.T) {
	type v1 struct{ A, B float64 }
	type v2 struct{ A, C float64 }
	data, err := recipe.Plain[v1]().Encode(v1{1, 2})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := recipe.Plain[v2]().Decode(data); err == nil {
		t.Errorf("the bytes of another make-up are read as %+v", got)
	}
	if got, err := recipe.Plain[v1]().Decode(append(data, 0)); err == nil || got != (v1{}) {
		t.Errorf("with a byte left over: %+v, %v", got, err)
	}
	// A count past all there is, which as an int is below zero.
	list := recipe.Plain[[]int8]()
	data, err = list.Encode(nil)
	if err != nil {
		t.Fatal(err)
	}
	data[32], data[39] = 0x80, 2
	if got, err := list.Decode(data); err == nil {
		t.Errorf("a count of 2^63 is read as %v", got)
	}
	// An interface that holds a type this codec was not told of.
	data, err = plainResult().Encode(result{Loose: face{1}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := recipe.Plain[result]().Decode(data); err == nil {
		t.Error("an unknown type is read")
	}
}

func TestPlainRefusesTypes(t *testing.T) {
	for _, c := range []struct {
		name, want string
		make       func()
	}{
		{"unexported", ".hidden: an unexported field", func() { recipe.Plain[sample]() }},
		{"blank", "._: an unexported field", func() { recipe.Plain[struct{ _ int }]() }},
		{"function", ".F: a function", func() { recipe.Plain[struct{ F func() }]() }},
		{"slice of nothing", "a slice of nothing", func() { recipe.Plain[[]struct{}]() }},
		{"map from nothing", ".M: a map from nothing", func() { recipe.Plain[struct{ M map[[0]int]int }]() }},
		{"known", ".hidden: an unexported field", func() { recipe.Plain[any](sample{}) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			defer func() {
				if got := fmt.Sprint(recover()); !strings.Contains(got, c.want) {
					t.Errorf("panics with %q, want %q", got, c.want)
				}
			}()
			c.make()
			t.Error("not refused")
		})
	}
}

func FuzzPlainDecode(f *testing.F) {
	codec := plainResult()
	x := 1.5
	full := result{Values: []unit.Value{{X: 1}}, ByID: map[string]unit.Minutes{"a": 1}, Core: &x, Next: &result{}, Raw: []byte("ab"), Loose: face{1}}
	for _, r := range []result{{}, full} {
		data, err := codec.Encode(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[32:])
	}
	head, _ := codec.Encode(result{})
	head = head[:32] // the print of the type, without which nothing is looked at
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := codec.Decode(append(bytes.Clone(head), data...))
		if err != nil {
			if !reflect.ValueOf(got).IsZero() {
				t.Error("an error and a value")
			}
			return
		}
		if _, err := codec.Encode(got); err != nil {
			t.Errorf("what was read cannot be written: %v", err)
		}
	})
}
