package build_test

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/build"
	"scalewright/unit"
)

// decoded is a text as the YAML library itself reads it: a way to compare that
// shares nothing with the editor.
func decoded(t rapid.TB, text string) any {
	var out any
	if err := yaml.Unmarshal([]byte(text), &out); err != nil {
		t.Fatalf("not YAML any more: %v\n%s", err, text)
	}
	return out
}

// places are the paths of all values, and whether each can be put.
func places(v any, path string, into map[string]bool) {
	join := func(key string) string { return strings.TrimPrefix(path+"."+key, ".") }
	switch v := v.(type) {
	case map[string]any:
		for key, below := range v {
			places(below, join(key), into)
		}
	case []any:
		for i, below := range v {
			places(below, join(strconv.Itoa(i)), into)
		}
	default:
		into[path] = true
		return
	}
	if path != "" {
		into[path] = false
	}
}

// with puts a value at a path of a decoded text, or takes it out.
func with(v any, keys []string, value any, drop bool) any {
	switch v := v.(type) {
	case map[string]any:
		out := maps.Clone(v)
		if len(keys) == 1 && drop {
			delete(out, keys[0])
			if len(out) == 0 {
				return nil
			}
			return out
		}
		out[keys[0]] = value
		if len(keys) > 1 {
			out[keys[0]] = with(v[keys[0]], keys[1:], value, drop)
		}
		return out
	case []any:
		i, _ := strconv.Atoi(keys[0])
		out := slices.Clone(v)
		if len(keys) == 1 && drop {
			out = slices.Delete(out, i, i+1)
			if len(out) == 0 {
				return nil
			}
			return out
		}
		if len(keys) > 1 {
			out[i] = with(v[i], keys[1:], value, drop)
		} else {
			out[i] = value
		}
		return out
	}
	return value
}

// empty takes brackets that hold nothing for nothing, as the reader does.
func empty(v any) any {
	switch v := v.(type) {
	case map[string]any:
		if len(v) == 0 {
			return nil
		}
		out := map[string]any{}
		for key, below := range v {
			out[key] = empty(below)
		}
		return out
	case []any:
		if len(v) == 0 {
			return nil
		}
		var out []any
		for _, below := range v {
			out = append(out, empty(below))
		}
		return out
	}
	return v
}

var comment = regexp.MustCompile(`(?m)(^| )#.*$`)

// Laws: (1) a change changes its value and no other; (2) putting or adding
// loses no comment and moves none to another line's end; (3) dropping loses
// only comments of the lines dropped.
func TestEditProperties(t *testing.T) {
	base := text(t, "testdata/rocket", "build.yaml")
	rapid.Check(t, func(t *rapid.T) {
		now := base
		if rapid.Bool().Draw(t, "crlf") {
			now = strings.ReplaceAll(now, "\n", "\r\n")
		}
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			now = oneChange(t, now)
		}
	})
}

func oneChange(t *rapid.T, now string) string {
	before := decoded(t, now)
	all := map[string]bool{}
	places(before, "", all)
	path := rapid.SampledFrom(slices.Sorted(maps.Keys(all))).Draw(t, "path")
	value := rapid.OneOf(
		rapid.SampledFrom([]string{"3 mm", "1/8 in", `8 3/16"`, "22.5 ± 0.1 ref", "true", "a, b", "x: y", "# no", "'", "- z", "{a}", " ", ""}),
		rapid.String(),
	).Draw(t, "value")
	c := build.Change{Op: build.Put, At: at(path), Text: build.Quote(value)}
	switch rapid.SampledFrom([]string{"put", "put", "add", "drop"}).Draw(t, "op") {
	case "add":
		path = strings.TrimPrefix(path[:strings.LastIndexByte(path, '.')+1], ".") + rapid.StringMatching(`new-[a-z]{8}`).Draw(t, "key")
		c.Op, c.At = build.Add, at(path)
	case "drop":
		c.Op, c.Text = build.Drop, ""
	}
	after, err := build.ChangeText(now, c)
	if err != nil {
		if all[path] && c.Op == build.Put {
			t.Fatalf("Put %s %q: %v", path, c.Text, err)
		}
		return now
	}
	want := with(before, strings.Split(path, "."), printable(value), c.Op == build.Drop)
	if diff := cmp.Diff(empty(want), empty(decoded(t, after))); diff != "" {
		t.Fatalf("%v (-want +got):\n%s", c, diff)
	}
	if c.Op == build.Drop {
		for _, words := range comment.FindAllString(after, -1) {
			if !strings.Contains(now, words) {
				t.Fatalf("a comment appeared: %q", words)
			}
		}
		return after
	}
	was, is := comment.FindAllString(now, -1), comment.FindAllString(strings.Replace(after, c.Text, "", 1), -1)
	if len(is) < len(was) && !strings.Contains(now, "# no") {
		t.Fatalf("%v lost a comment: %q became %q", c, was, is)
	}
	return after
}

// printable is what a text keeps when it is quoted.
func printable(s string) string {
	return regexp.MustCompile(`[\x00-\x08\x0b-\x1f\x7f-\x{9f}]`).ReplaceAllString(s, "\uFFFD")
}

// Whatever is quoted is read again as it was.
func TestQuote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := printable(rapid.String().Draw(t, "text"))
		got := decoded(t, "a: "+build.Quote(want)+"\n").(map[string]any)["a"]
		if got != want {
			t.Errorf("Quote(%q) = %s, read again as %q", want, build.Quote(want), got)
		}
		if strings.ContainsAny(build.Quote(want), "\n\r") {
			t.Errorf("Quote(%q) takes several lines", want)
		}
	})
}

// Undo of drawn edits comes back to every text, byte for byte but for the
// revision. Each edit waits for the disk, so the draws are few.
func TestUndoProperties(t *testing.T) {
	revision := regexp.MustCompile(`(?m)^revision: \d+`)
	values := map[string]string{"name": "x", "parts.body.wall": "3 mm", "enlarge.ratio": "5", "core.hold": "bored", "quiet": "[]"}
	scripts := rapid.SliceOfN(rapid.SampledFrom(slices.Sorted(maps.Keys(values))), 1, 4)
	dir := copyDemo(t)
	f := open(t, dir)
	for seed := range 15 {
		seen := load(t, f).Revision
		var texts []string
		for _, path := range scripts.Example(seed) {
			texts = append(texts, revision.ReplaceAllString(text(t, dir, build.BuildFile), ""))
			next, err := f.Set(seen, at(path), values[path])
			if err != nil {
				t.Fatal(err)
			}
			seen = next
		}
		for _, want := range slices.Backward(texts) {
			_, next, err := f.Undo(seen)
			if err != nil {
				t.Fatal(err)
			}
			seen = next
			if got := revision.ReplaceAllString(text(t, dir, build.BuildFile), ""); got != want {
				t.Fatalf("draw %d: undo (-want +got):\n%s", seed, cmp.Diff(want, got))
			}
		}
	}
}

// What ParseDim reads, the schema's patterns let pass, and a slip they do not.
func TestSchemaPatterns(t *testing.T) {
	ref, shop, either := regexp.MustCompile(build.RefPattern), regexp.MustCompile(build.ShopPattern), regexp.MustCompile(build.AnyPattern)
	for _, dim := range []string{
		"3 mm", "20.8 cm", "1.2 m", "1/8 in", "8 3/16 in", `8 3/16"`, `1'-4 9/16"`, `4'`, "22.5 ref", "22.5 ± 0.1 ref", "22.5 +- 0.1 mm",
		"0.06 ± 0.05 mm", "-0.22 ± 0.06 mm", "22.5 mm ± 0.1 mm ref", "1/8 in ref", ".5 mm", "3mm", `1'-4 9/16" ref`, "2 ft",
		"3", "22.5", "rf", "3 mm mm", "", "1 2 mm", "3 km",
	} {
		d, err := unit.ParseDim(dim)
		if got := either.MatchString(dim); got != (err == nil) {
			t.Errorf("%q: pattern %v, ParseDim %v", dim, got, err)
		}
		if err != nil {
			continue
		}
		isRef := d.Owner == unit.OfReference
		if ref.MatchString(dim) != isRef || shop.MatchString(dim) == isRef {
			t.Errorf("%q: reference %v, shop %v, but it is %v", dim, ref.MatchString(dim), shop.MatchString(dim), d.Owner)
		}
	}
}
