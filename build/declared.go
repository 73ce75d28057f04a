package build

import (
	"slices"

	"scalewright/finding"
	"scalewright/unit"
)

// Declared is a value as it stands in build.yaml or shop.yaml.
type Declared struct {
	At   finding.Place
	Text string // as written: a scalar without its quotes; a list or mapping in brackets as it stands
	Line int
	// Length is what a text that is a length says; IsLength is false for others.
	Length   unit.Dim
	IsLength bool
}

// Texts are both files as they were read; nil where one is not there.
func (l Loaded) Texts() (build, shop []byte) {
	text := func(name string) []byte {
		if d := l.docs[name]; d != nil {
			return []byte(d.text)
		}
		return nil
	}
	return text(BuildFile), text(ShopFile)
}

// Values are all values of build.yaml and shop.yaml, in the order in which they are
// written.
func (l Loaded) Values() []Declared {
	var out []Declared
	for _, name := range [...]string{BuildFile, ShopFile} {
		if d := l.docs[name]; d != nil && d.root != nil {
			out = d.values(out, d.root)
		}
	}
	return out
}

func (d *document) values(out []Declared, n *node) []Declared {
	switch {
	case n == nil || n.kind == nothingNode:
		return out
	case n.kind == scalarNode || n.flow && len(n.entries) == 0:
		v := Declared{At: finding.Place{File: d.file, Path: n.path}, Text: n.text, Line: d.position(n.from).Line}
		if n.kind != scalarNode {
			v.Text = d.text[n.from:min(n.to, len(d.text))]
		} else if dim, err := unit.ParseDim(n.text); err == nil {
			v.Length, v.IsLength = dim, true
		}
		return append(out, v)
	}
	for _, e := range n.entries {
		out = d.values(out, e.value)
	}
	for _, item := range n.items {
		out = d.values(out, item)
	}
	return out
}

// Difference is a value that two texts of a build do not agree on; empty where one
// of them has none.
type Difference struct {
	At      finding.Place
	Was, Is string
}

// Differences are the values that stand otherwise in two pairs of texts, without
// the revision, in the order of the later one; values that are gone come last.
func Differences(wasBuild, wasShop, isBuild, isShop []byte) []Difference {
	was, is := valuesOf(wasBuild, wasShop), valuesOf(isBuild, isShop)
	find := func(in []Declared, at finding.Place) int {
		return slices.IndexFunc(in, func(v Declared) bool { return v.At == at })
	}
	revision := finding.Place{File: BuildFile, Path: "revision"}
	var out []Difference
	for _, v := range is {
		k := find(was, v.At)
		switch {
		case v.At == revision:
		case k < 0:
			out = append(out, Difference{At: v.At, Is: v.Text})
		case was[k].Text != v.Text:
			out = append(out, Difference{v.At, was[k].Text, v.Text})
		}
	}
	for _, v := range was {
		if find(is, v.At) < 0 && v.At != revision {
			out = append(out, Difference{At: v.At, Was: v.Text})
		}
	}
	return out
}

func valuesOf(build, shop []byte) []Declared {
	docs := documents{}
	readDeclaration(texts{build, shop}, docs)
	return Loaded{docs: docs}.Values()
}

// Try reads the build as it would be after some changes, and writes nothing. The
// errors are those of [Folder.Edit] and [Folder.Load].
func (f *Folder) Try(changes ...Change) (Loaded, error) {
	t, err := f.readTexts()
	if err != nil {
		return Loaded{}, err
	}
	after, err := changed(t, changes)
	if err != nil {
		return Loaded{}, err
	}
	return f.load(after)
}

// changed are the texts after some changes.
func changed(t texts, changes []Change) (texts, error) {
	for _, c := range changes {
		text := &t.build
		switch {
		case c.At.File == ShopFile && t.shop != nil:
			text = &t.shop
		case c.At.File != BuildFile || c.At.Path == "revision":
			return texts{}, &CannotEdit{c.At, "only values of build.yaml and shop.yaml are edited here, and not the revision"}
		}
		after, err := change(c.At.File, string(*text), c)
		if err != nil {
			return texts{}, err
		}
		*text = []byte(after)
	}
	return t, nil
}
