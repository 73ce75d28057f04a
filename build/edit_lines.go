package build

import (
	"slices"
	"strings"
)

// lineEnd is the offset of the end of the line that holds an offset, before its
// line break.
func (e *editor) lineEnd(offset int) int {
	if i := strings.IndexByte(e.doc.text[offset:], '\n'); i >= 0 {
		return len(strings.TrimSuffix(e.doc.text[:offset+i], "\r"))
	}
	return len(e.doc.text)
}

func (e *editor) lineStart(offset int) int {
	return strings.LastIndexByte(e.doc.text[:offset], '\n') + 1
}

func (e *editor) lineBreak() string {
	if strings.Contains(e.doc.text, "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// blockLines writes keys one below the other, the value behind the last.
func (e *editor) blockLines(keys []string, text string, indent int) string {
	var b strings.Builder
	for i, key := range keys {
		b.WriteString(e.lineBreak())
		b.WriteString(strings.Repeat(" ", indent+2*i))
		b.WriteString(key + ":")
	}
	b.WriteString(" " + text)
	return b.String()
}

// addBelow gives a key without a value its first entry, one level in.
func (e *editor) addBelow(above *node, keys []string, text string) (string, error) {
	if above == e.doc.root {
		out := e.blockLines(keys, text, 0)
		body := strings.TrimRight(e.doc.text, "\r\n")
		if body == "" {
			out = strings.TrimPrefix(out, e.lineBreak())
		}
		return body + out + e.lineBreak(), nil
	}
	start := e.lineStart(above.from)
	line := e.doc.text[start:above.from]
	indent := len(line) - len(strings.TrimLeft(line, " "))
	end := e.lineEnd(above.from)
	return e.splice(end, end, e.blockLines(keys, text, indent+2)), nil
}

// addLines puts a new entry behind the last one of a mapping or list in block
// style, level with it.
func (e *editor) addLines(above *node, keys []string, text string) (string, error) {
	if above.endsInBlock() {
		return "", e.cannot("the value before it takes several lines; edit the file itself")
	}
	end := e.lineEnd(above.to)
	if above.kind == mappingNode {
		if above == e.doc.root && strings.Contains(e.doc.text, strings.Repeat(e.lineBreak(), 2)) {
			// Where sections stand apart, a new one does too.
			return e.splice(end, end, e.lineBreak()+e.blockLines(keys, text, 0)), nil
		}
		indent := above.entries[0].from - e.lineStart(above.entries[0].from)
		return e.splice(end, end, e.blockLines(keys, text, indent)), nil
	}
	if _, ok := index(keys[0]); !ok || len(above.dashes) == 0 {
		return "", e.cannot("a list holds items by number")
	}
	indent := above.dashes[0] - e.lineStart(above.dashes[0])
	item := text
	if len(keys) > 1 {
		item = "{" + flowKeys(keys[1:], text) + "}"
	}
	return e.splice(end, end, e.lineBreak()+strings.Repeat(" ", indent)+"- "+item), nil
}

// endsInBlock reports whether the last value of a node is a block scalar, whose
// end the parser does not tell.
func (n *node) endsInBlock() bool {
	switch {
	case n.flow:
		return false
	case len(n.entries) > 0:
		return n.entries[len(n.entries)-1].value.endsInBlock()
	case len(n.items) > 0:
		return n.items[len(n.items)-1].endsInBlock()
	}
	return n.block
}

// drop takes a key or an item out.
func (e *editor) drop(c Change) (string, error) {
	keys := strings.Split(c.At.Path, ".")
	above := e.doc.root
	for _, key := range keys[:len(keys)-1] {
		above = above.step(key)
	}
	last := keys[len(keys)-1]
	n := above.step(last)
	if n == nil {
		return "", e.cannot("it is not there")
	}
	if n.endsInBlock() {
		return "", e.cannot("its value takes several lines; edit the file itself")
	}
	var out string
	var err error
	if above.flow {
		out = e.dropFlow(above, last)
	} else {
		out, err = e.dropLines(above, last, n)
	}
	if err != nil {
		return "", err
	}
	return out, e.prove(out, e.doc.root.without(keys))
}

// spans are where the entries or items of a node begin and end.
func (n *node) spans() (from, to []int) {
	for _, entry := range n.entries {
		from, to = append(from, entry.from), append(to, max(entry.to+1, entry.value.to))
	}
	for i, item := range n.items {
		start := item.from
		if i < len(n.dashes) {
			start = n.dashes[i]
		}
		from, to = append(from, start), append(to, max(start+1, item.to))
	}
	return from, to
}

func (n *node) position(key string) int {
	if n.kind == listNode {
		i, _ := index(key)
		return i
	}
	return slices.IndexFunc(n.entries, func(e entry) bool { return e.key == key })
}

// dropFlow takes an entry out of brackets with the comma behind it, or before
// it when it is the last.
func (e *editor) dropFlow(above *node, key string) string {
	from, to := above.spans()
	switch i := above.position(key); {
	case i+1 < len(from):
		return e.splice(from[i], from[i+1], "")
	case i > 0:
		return e.splice(to[i-1], to[i], "")
	default:
		return e.splice(from[i], to[i], "")
	}
}

// dropLines takes out the lines from a key to the end of its value.
func (e *editor) dropLines(above *node, key string, n *node) (string, error) {
	from, to := above.spans()
	i := above.position(key)
	start := e.lineStart(from[i])
	if strings.TrimSpace(e.doc.text[start:from[i]]) != "" {
		return "", e.cannot("it shares its line with what stands before it; edit the file itself")
	}
	end := e.lineEnd(to[i])
	rest := e.doc.text[end:]
	rest = strings.TrimPrefix(strings.TrimPrefix(rest, "\r"), "\n")
	return e.doc.text[:start] + rest, nil
}

// without is the tree with a key or item taken out; a mapping or list that
// loses its last is nothing.
func (n *node) without(keys []string) *node {
	out := *n
	i := n.position(keys[0])
	if len(keys) > 1 {
		below := n.step(keys[0]).without(keys[1:])
		if n.kind == listNode {
			out.items = slices.Clone(n.items)
			out.items[i] = below
			return &out
		}
		out.entries = slices.Clone(n.entries)
		out.entries[i].value = below
		return &out
	}
	if n.kind == listNode {
		out.items = slices.Delete(slices.Clone(n.items), i, i+1)
	} else {
		out.entries = slices.Delete(slices.Clone(n.entries), i, i+1)
	}
	if len(out.items)+len(out.entries) == 0 && !n.flow {
		return &node{kind: nothingNode}
	}
	return &out
}
