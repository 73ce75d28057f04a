package finding_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/unit"
)

func tooThin(station unit.Length) finding.Finding {
	return finding.New("wall-thin", finding.Place{File: "build.yaml", Path: "parts.tail"}.Key("wall"), finding.Args{
		"piece": finding.Name("tail"), "wall": finding.Fine(0.6), "printer": finding.Name("Wren"), "least": finding.Fine(0.88),
	}).About("tail").AtStation(station)
}

func ExampleWriter_Print() {
	w := finding.Writer{Locate: func(p finding.Place) finding.Position { return finding.Position{File: p.File, Line: 12, Column: 11} }}
	w.Print(os.Stdout, tooThin(196))
	// Output:
	// build.yaml:12:11: blocker wall-thin: the wall of tail is 0.6 mm at 196 mm; Wren needs 0.88 mm, two lines
	//     do: make the wall of tail 0.88 mm or more
}

func ExampleNearest() {
	os.Stdout.WriteString(finding.Nearest("drain-101", []string{"drain-110", "drain-125", "nps-1"}) + "\n")
	// Output: drain-110
}

func TestMessageInTheReadersUnits(t *testing.T) {
	f := tooThin(196)
	if got := (finding.Writer{System: unit.FeetInches}).Message(f); !strings.Contains(got, `at 7 11/16"`) || !strings.Contains(got, "0.6 mm") {
		t.Errorf("in feet and inches: %q", got)
	}
	if got := (finding.Writer{}).Position(f.At).String(); got != "build.yaml" {
		t.Errorf("without a locator the place is %q", got)
	}
	if got := (finding.Position{}).String(); got != "build" {
		t.Errorf("the zero position is %q", got)
	}
}

func TestNotesAreWritten(t *testing.T) {
	f := finding.New("double-key", finding.Place{File: "build.yaml", Path: "b"}, finding.Args{"key": finding.Name("b")}).
		WithNote("first-here", finding.Place{File: "build.yaml", Path: "a"}, nil)
	var b strings.Builder
	finding.Writer{}.Print(&b, f)
	if !strings.Contains(b.String(), "note: the first is here") {
		t.Errorf("Print = %q", b.String())
	}
}

func TestArgs(t *testing.T) {
	for _, c := range []struct {
		arg        finding.Arg
		says, json string
	}{
		{finding.Long(1311.4), "1311 mm", `{"x_mm":1311.4}`},
		{finding.Size(111.25), "111.2 mm", `{"x_mm":111.25}`},
		{finding.Fine(0.375), "0.38 mm", `{"x_mm":0.375}`},
		{finding.Names("bell", "tail", "nose"), "bell, tail and nose", `{"x":"bell, tail and nose"}`},
		{finding.Names("bell"), "bell", `{"x":"bell"}`},
		{finding.Names(), "none", `{"x":"none"}`},
		{finding.Count(7), "7", `{"x":7}`},
		{finding.Number(3.14159), "3.14", `{"x":3.14159}`},
		{finding.Span(150), "2 h 30", `{"x_min":150}`},
		{finding.Weight(340), "340 g", `{"x_g":340}`},
		{finding.Weight(3296), "3.3 kg", `{"x_g":3296}`},
	} {
		text, err := json.Marshal(finding.Args{"x": c.arg})
		if err != nil || string(text) != c.json {
			t.Errorf("%v as JSON = %s, %v, want %s", c.arg, text, err, c.json)
		}
		f := finding.New("bad-yaml", finding.Place{}, finding.Args{"what": c.arg, "hint": finding.Name("look")})
		if got := (finding.Writer{}).Message(f); got != c.says {
			t.Errorf("%v says %q, want %q", c.arg, got, c.says)
		}
	}
}

func TestWrongArgumentsAreBugs(t *testing.T) {
	for name, call := range map[string]func(){
		"unknown code":     func() { finding.New("no-such-code", finding.Place{}, nil) },
		"missing argument": func() { finding.New("bad-yaml", finding.Place{}, finding.Args{"what": finding.Count(1)}) },
		"extra argument": func() {
			finding.New("nobody-works", finding.Place{}, finding.Args{"x": finding.Count(1)})
		},
		"unknown note": func() { tooThin(1).WithNote("no-such-code", finding.Place{}, nil) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if text, _ := recover().(string); !strings.Contains(text, "internal error") {
					t.Errorf("panic = %q", text)
				}
			}()
			call()
			t.Error("no panic")
		})
	}
}

func TestListZeroValue(t *testing.T) {
	var l finding.List
	if _, any := l.Worst(); any || l.Blocked() || l.Count(finding.Note) != 0 || len(l.Sorted()) != 0 {
		t.Error("the zero list is not empty")
	}
	l.Add(tooThin(1))
	if worst, _ := l.Worst(); worst != finding.Blocker || !l.Blocked() || l.Count(finding.Blocker) != 1 {
		t.Errorf("worst of %v = %v", l, worst)
	}
}

func TestSortedIsWorstFirstWithoutRepetitions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pool := finding.List{
			tooThin(5), tooThin(9), tooThin(5),
			finding.New("nobody-works", finding.Place{File: "shop.yaml"}, nil),
			finding.New("first-here", finding.Place{}, nil),
		}
		var l finding.List
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			l.Add(pool[rapid.IntRange(0, len(pool)-1).Draw(t, "i")])
		}
		before := slices.Clone(l)
		s := l.Sorted()
		for i := 1; i < len(s); i++ {
			if s[i-1].Severity < s[i].Severity || s[i-1].Severity == s[i].Severity && s[i-1].Station >= s[i].Station {
				t.Errorf("%v stands before %v", s[i-1], s[i])
			}
		}
		if shuffled := rapid.Permutation(l).Draw(t, "order"); !slices.EqualFunc(finding.List(shuffled).Sorted(), s, same) {
			t.Error("the order of finding changes the order of saying")
		}
		if !slices.EqualFunc(l, before, same) {
			t.Error("Sorted changed its receiver")
		}
	})
}

func same(a, b finding.Finding) bool {
	return a.Code == b.Code && a.Station == b.Station && a.At == b.At
}

func TestNearest(t *testing.T) {
	stock := []string{"drain-110", "drain-125", "pressure-20", "nps-1", "nps-2"}
	for _, c := range []struct{ name, want string }{
		{"drain-111", "drain-110"},
		{"drian-110", "drain-110"}, // two letters swapped
		{"drain110", "drain-110"},
		{"presure-20", "pressure-20"},
		{"nps-3", "nps-1"}, // of two as near the first
		{"aluminium", ""},
		{"", ""},
		{"x", ""},
	} {
		if got := finding.Nearest(c.name, stock); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.name, got, c.want)
		}
	}
	if got := finding.Nearest("x", nil); got != "" {
		t.Errorf("of no candidates: %q", got)
	}
}
