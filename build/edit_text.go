package build

import (
	"slices"
	"strconv"
	"strings"

	"scalewright/finding"
)

// change makes one change of a text and proves it: the new text, read again,
// must say what the old one said, but for the value changed. All other bytes
// stay, comments with them.
func change(file, text string, c Change) (string, error) {
	doc, found := readYAML(file, []byte(text))
	if doc.root == nil {
		return "", unreadable(found, documents{file: doc})
	}
	e := editor{doc: doc, at: c.At}
	if !doc.root.placed(0, len(text)) {
		return "", e.cannot("the text is laid out in an unusual way; edit the file itself")
	}
	if c.Op == Drop {
		return e.drop(c)
	}
	value, err := e.parse(c.Text)
	if err != nil {
		return "", err
	}
	out, err := e.set(c, c.Text, value)
	if err != nil && value.kind == scalarNode && !value.quoted {
		// Inside brackets a comma would end a plain scalar.
		value.quoted = true
		return e.set(c, strconv.Quote(value.text), value)
	}
	return out, err
}

// placed reports whether a tree lies in a stretch of the text, its parts one
// behind the other: in some odd texts the parser loses count of columns, and an
// edit there would hit the wrong bytes.
func (n *node) placed(from, to int) bool {
	if n.from < from || n.to < n.from || n.to > to {
		return false
	}
	at, end := n.from, to
	if n.flow {
		end = n.to
	}
	for _, e := range n.entries {
		if e.from < at || e.to < e.from || !e.value.placed(e.to, end) {
			return false
		}
		at = max(e.to, e.value.to)
	}
	for _, item := range n.items {
		if !item.placed(at, end) {
			return false
		}
		at = max(item.from, item.to)
	}
	return true
}

type editor struct {
	doc *document
	at  finding.Place
}

func (e *editor) cannot(why string) error { return &CannotEdit{e.at, why} }

// parse reads the text of a value by itself.
func (e *editor) parse(text string) (*node, error) {
	doc, _ := readYAML("value", []byte("value: "+text))
	value := doc.find("value")
	if value == nil || len(doc.root.entries) != 1 || strings.ContainsAny(text, "\n\r") ||
		value.block || value.to != len(doc.text) || (value.kind == mappingNode || value.kind == listNode) && !value.flow {
		return nil, e.cannot(strconv.Quote(text) + " is not one value on one line")
	}
	return value, nil
}

// set puts or adds a value.
func (e *editor) set(c Change, text string, value *node) (string, error) {
	keys := strings.Split(c.At.Path, ".")
	if c.At.Path == "" {
		return "", e.cannot("no key is named")
	}
	above, deepest := e.doc.root, 0
	for deepest < len(keys) {
		next := above.step(keys[deepest])
		if next == nil {
			break
		}
		above, deepest = next, deepest+1
	}
	var out string
	var err error
	if deepest == len(keys) {
		if c.Op == Add {
			return "", e.cannot("it is there already")
		}
		out, err = e.replace(above, text)
	} else {
		out, err = e.add(above, keys[deepest:], text)
	}
	if err != nil {
		return "", err
	}
	want := e.doc.root.with(keys, value)
	if want == nil {
		return "", e.cannot("what stands above it holds no keys")
	}
	return out, e.prove(out, want)
}

// prove reads the new text and compares.
func (e *editor) prove(text string, want *node) error {
	again, _ := readYAML(e.doc.file, []byte(text))
	if again.root == nil || !again.root.same(want) {
		return e.cannot("the text around it does not allow the change; edit the file itself")
	}
	return nil
}

// with is the tree with a value at a path. Nodes off the path are shared.
func (n *node) with(keys []string, value *node) *node {
	if len(keys) == 0 {
		return value
	}
	out := &node{kind: mappingNode}
	if n != nil {
		*out = *n
	}
	switch out.kind {
	case nothingNode:
		out.kind = mappingNode
	case scalarNode:
		return nil
	}
	var old *node
	if n != nil {
		old = n.step(keys[0])
	}
	below := old.with(keys[1:], value)
	if below == nil {
		return nil
	}
	if out.kind == listNode {
		i, ok := index(keys[0])
		if !ok || i > len(out.items) {
			return nil
		}
		out.items = append(slices.Clone(out.items[:i]), append([]*node{below}, out.items[min(i+1, len(out.items)):]...)...)
		return out
	}
	out.entries = slices.Clone(out.entries)
	for i, entry := range out.entries {
		if entry.key == keys[0] {
			out.entries[i].value = below
			return out
		}
	}
	out.entries = append(out.entries, entry{key: keys[0], value: below})
	return out
}

// splice replaces the bytes from..to.
func (e *editor) splice(from, to int, text string) string {
	return e.doc.text[:from] + text + e.doc.text[to:]
}

// replace puts text in the place of a value.
func (e *editor) replace(n *node, text string) (string, error) {
	switch {
	case n.block, (n.kind == mappingNode || n.kind == listNode) && !n.flow:
		return "", e.cannot("its value takes several lines; change one of the values in it")
	case strings.Contains(e.doc.text[n.from:n.to], "\n"):
		return "", e.cannot("its value takes several lines; edit the file itself")
	case n.kind == nothingNode && n.from == n.to:
		text = " " + text
	}
	return e.splice(n.from, n.to, text), nil
}

// add puts keys and a value into a mapping or list that lacks them.
func (e *editor) add(above *node, keys []string, text string) (string, error) {
	switch {
	case above.kind == scalarNode:
		return "", e.cannot("what stands above it is a single value")
	case above.kind == nothingNode && above.to > above.from:
		return e.splice(above.from, above.to, "{"+flowKeys(keys, text)+"}"), nil
	case above.kind == nothingNode:
		return e.addBelow(above, keys, text)
	case above.flow:
		return e.addFlow(above, keys, text)
	}
	return e.addLines(above, keys, text)
}

func flowKeys(keys []string, text string) string {
	out := text
	for i, key := range slices.Backward(keys) {
		out = key + ": " + out
		if i > 0 {
			out = "{" + out + "}"
		}
	}
	return out
}

func (e *editor) addFlow(above *node, keys []string, text string) (string, error) {
	item, last, follows := flowKeys(keys, text), above.from+1, false
	if above.kind == listNode {
		if _, ok := index(keys[0]); !ok {
			return "", e.cannot("a list holds items by number")
		}
		item = text
		if len(keys) > 1 {
			item = "{" + flowKeys(keys[1:], text) + "}"
		}
		if n := len(above.items); n > 0 {
			last, follows = above.items[n-1].to, true
		}
	} else if n := len(above.entries); n > 0 {
		last, follows = above.entries[n-1].value.to, true
	}
	if follows {
		item = ", " + item
	}
	return e.splice(last, last, item), nil
}
