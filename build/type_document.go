package build

import (
	"slices"
	"strings"
	"unicode/utf8"

	"scalewright/finding"
)

// document is a text with its tree and the place of each key.
type document struct {
	file   string
	text   string
	lines  []int // offset of each line
	root   *node // nil when the text could not be parsed
	places map[string]int
}

func newDocument(file, text string) *document {
	d := &document{file: file, text: text, lines: []int{0}, places: map[string]int{}}
	for i := range len(text) {
		if text[i] == '\n' {
			d.lines = append(d.lines, i+1)
		}
	}
	return d
}

// remember keeps the first place of a path.
func (d *document) remember(path string, offset int) {
	if _, ok := d.places[path]; !ok {
		d.places[path] = offset
	}
}

// offset of a line and column counted from 1, columns in code points; false
// when the text has no such place.
func (d *document) offset(line, column int) (int, bool) {
	if line < 1 || line > len(d.lines) || column < 1 {
		return 0, false
	}
	at := d.lines[line-1]
	for range column - 1 {
		if at >= len(d.text) || d.text[at] == '\n' {
			return 0, false
		}
		_, size := utf8.DecodeRuneInString(d.text[at:])
		at += size
	}
	return at, true
}

// position of an offset, as an editor counts it.
func (d *document) position(offset int) finding.Position {
	line, found := slices.BinarySearch(d.lines, offset)
	if !found {
		line--
	}
	column := utf8.RuneCountInString(d.text[d.lines[line]:offset]) + 1
	return finding.Position{File: d.file, Line: line + 1, Column: column}
}

// locate is the position of a path, or of the nearest place above it.
func (d *document) locate(path string) finding.Position {
	for path != "" {
		if at, ok := d.places[path]; ok {
			return d.position(at)
		}
		path = path[:max(0, strings.LastIndexByte(path, '.'))]
	}
	if d.root != nil {
		return d.position(d.root.from)
	}
	return finding.Position{File: d.file, Line: 1, Column: 1}
}

// find is the node of a path; nil when there is none.
func (d *document) find(path string) *node {
	n := d.root
	if path == "" {
		return n
	}
	for key := range strings.SplitSeq(path, ".") {
		n = n.step(key)
		if n == nil {
			return nil
		}
	}
	return n
}

// step is the value of a key of a mapping or of an item of a list.
func (n *node) step(key string) *node {
	if n == nil {
		return nil
	}
	if n.kind == listNode {
		if i, ok := index(key); ok && i < len(n.items) {
			return n.items[i]
		}
		return nil
	}
	return n.child(key)
}

// index reads the number of an item as it stands in a path.
func index(key string) (int, bool) {
	if key == "" || len(key) > 6 || key[0] == '0' && len(key) > 1 {
		return 0, false
	}
	i := 0
	for _, c := range []byte(key) {
		if c < '0' || c > '9' {
			return 0, false
		}
		i = i*10 + int(c-'0')
	}
	return i, true
}
