package build

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"scalewright/finding"
)

// Bounds of a text that a person wrote; past them it is refused unread.
const (
	mostText  = 1 << 20 // bytes
	mostDepth = 32      // nested mappings and lists
)

// readYAML parses a text. Mistakes of YAML itself are findings; then the
// document has no root, but still has lines.
func readYAML(file string, text []byte) (*document, finding.List) {
	d := newDocument(file, string(text))
	r := treeReader{doc: d}
	switch {
	case len(text) > mostText:
		d.text, d.lines = "", []int{0}
		r.refuse(0, "the file is larger than 1 MiB", "keep photographs and solids in files of their own")
	case !utf8.Valid(text):
		r.refuse(firstInvalid(d.text), "the file is not UTF-8 text", "save it as UTF-8")
	case nesting(d.text) > mostDepth:
		r.refuse(0, "brackets are nested too deeply", "close the brackets")
	default:
		r.parse()
	}
	return d, r.found
}

func firstInvalid(s string) int {
	for i, c := range s {
		if c == utf8.RuneError && !strings.HasPrefix(s[i:], "\uFFFD") {
			return i
		}
	}
	return 0
}

// nesting bounds the depth of brackets, and of the marks that nest on one line
// ("- - -", "? ?", tags), before the parser recurses over them.
func nesting(s string) int {
	deepest, depth := 0, 0
	for i := range len(s) {
		switch s[i] {
		case '[', '{':
			depth++
			deepest = max(deepest, depth)
		case ']', '}':
			depth = max(0, depth-1)
		}
	}
	for line := range strings.Lines(s) {
		run := 0
		for field := range strings.FieldsSeq(line) {
			if !strings.ContainsAny(field[:1], "-?:!&*") {
				run = 0
				continue
			}
			run++
			deepest = max(deepest, run)
		}
	}
	return deepest
}

type treeReader struct {
	doc   *document
	found finding.List
}

func (r *treeReader) refuse(offset int, what, do string) {
	place := finding.Place{File: r.doc.file, Path: "(" + strconv.Itoa(offset) + ")"}
	r.doc.remember(place.Path, offset)
	r.found.Add(finding.New("bad-yaml", place, finding.Args{"what": finding.Name(what), "hint": finding.Name(do)}))
}

func (r *treeReader) parse() {
	// The parser counts a line twice where CR LF ends a comment, and does not
	// know a byte order mark; neither moves a line or column for us.
	text := strings.ReplaceAll(strings.TrimPrefix(r.doc.text, "\uFEFF"), "\r\n", "\n")
	file, err := parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		r.syntax(err)
		return
	}
	var body ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			r.refuse(r.offset(doc.Body.GetToken()), "a second document begins", `take out the line "---"`)
			return
		}
		body = doc.Body
	}
	if body == nil {
		r.doc.root = &node{kind: nothingNode}
		return
	}
	root := r.node(body, "", 0)
	if len(r.found) == 0 {
		r.doc.root = root
	}
}

func (r *treeReader) syntax(err error) {
	at, what := 0, err.Error()
	if syntax, ok := errors.AsType[*yaml.SyntaxError](err); ok {
		at, what = r.offset(syntax.Token), syntax.Message
	}
	r.refuse(at, "this is not YAML: "+what, "check indentation, quotes and brackets here and on the line before")
}

// offset of a token in the text.
func (r *treeReader) offset(t *token.Token) int {
	if t == nil || t.Position == nil {
		return 0
	}
	column := t.Position.Column
	if t.Position.Line == 1 && strings.HasPrefix(r.doc.text, "\uFEFF") {
		column++
	}
	at, ok := r.doc.offset(t.Position.Line, column)
	if !ok {
		return 0
	}
	return at
}

func (r *treeReader) node(n ast.Node, path string, depth int) *node {
	out := &node{path: path, from: r.offset(n.GetToken())}
	if depth > mostDepth {
		r.refuse(out.from, "values are nested too deeply", "write them on fewer levels")
		return out
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		r.mapping(out, n.Values, n.Start, n.End, n.IsFlowStyle, depth)
	case *ast.MappingValueNode:
		r.mapping(out, []*ast.MappingValueNode{n}, nil, nil, false, depth)
	case *ast.SequenceNode:
		r.list(out, n, depth)
	case *ast.NullNode:
		r.nothing(out, n)
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NanNode, *ast.InfinityNode:
		r.scalar(out, n.GetToken())
	case *ast.LiteralNode:
		out.kind, out.block, out.quoted, out.text = scalarNode, true, true, n.Value.Value
		out.to = out.from
	default:
		r.refuse(out.from, "anchors, aliases, tags and merge keys are not used in a build", "write the value out")
	}
	return out
}

func (r *treeReader) scalar(out *node, t *token.Token) {
	out.kind, out.text = scalarNode, t.Value
	written := strings.TrimSpace(strings.Trim(t.Origin, "\n"))
	out.quoted = t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType
	if out.quoted {
		out.to = out.from + quotedLength(r.doc.text[out.from:])
		return
	}
	out.to = min(out.from+len(written), len(r.doc.text))
	if !strings.Contains(written, "\n") {
		out.text = written
	}
}

// quotedLength measures a quoted scalar in the text itself: the parser's own
// copy of it has escapes resolved.
func quotedLength(s string) int {
	if s == "" {
		return 0
	}
	for i := 1; i < len(s); i++ {
		switch {
		case s[i] == '\\' && s[0] == '"':
			i++
		case s[i] == '\'' && s[0] == '\'' && strings.HasPrefix(s[i+1:], "'"):
			i++
		case s[i] == s[0]:
			return i + 1
		}
	}
	return len(s)
}

// nothing is a null, written ("~", "null") or left out behind the colon.
func (r *treeReader) nothing(out *node, n *ast.NullNode) {
	out.kind = nothingNode
	rest := r.doc.text[out.from:]
	for _, word := range []string{"~", "null", "Null", "NULL"} {
		if strings.HasPrefix(rest, word) {
			out.to = out.from + len(word)
			return
		}
	}
	// The parser places a value left out at or just behind the mark before it.
	if rest != "" && strings.ContainsRune(":-", rune(rest[0])) {
		out.from++
	}
	out.from = min(out.from, len(r.doc.text))
	out.to = out.from
}

func (r *treeReader) mapping(out *node, values []*ast.MappingValueNode, start, end *token.Token, flow bool, depth int) {
	out.kind, out.flow = mappingNode, flow
	if flow {
		out.from, out.to = r.offset(start), r.offset(end)+1
	}
	for i, v := range values {
		key, ok := v.Key.(ast.ScalarNode)
		if !ok || v.Key.IsMergeKey() {
			r.refuse(r.offset(v.Key.GetToken()), "this key is not a plain word", "write the key as one word and a colon")
			continue
		}
		k := node{from: r.offset(key.GetToken())}
		r.scalar(&k, key.GetToken())
		e := entry{key: k.text, from: k.from, to: k.to}
		path := join(out.path, e.key)
		r.twice(out, e, path)
		r.doc.remember(path, e.from)
		e.value = r.node(v.Value, path, depth+1)
		if e.value.kind == nothingNode && e.value.from == e.value.to {
			// Left out at the end of a text it is placed anywhere at all.
			if colon := strings.IndexByte(r.doc.text[e.to:], ':'); colon >= 0 {
				e.value.from = e.to + colon + 1
				e.value.to = e.value.from
			}
		}
		out.entries = append(out.entries, e)
		if !flow {
			if i == 0 {
				out.from = e.from
			}
			out.to = max(e.to+1, e.value.to)
		}
	}
}

func (r *treeReader) twice(m *node, e entry, path string) {
	for _, other := range m.entries {
		if other.key != e.key {
			continue
		}
		second := finding.Place{File: r.doc.file, Path: path + " (again)"}
		r.doc.remember(second.Path, e.from)
		r.found.Add(finding.New("double-key", second, finding.Args{"key": finding.Name(e.key)}).
			WithNote("first-here", finding.Place{File: r.doc.file, Path: path}, nil))
		return
	}
}

func (r *treeReader) list(out *node, n *ast.SequenceNode, depth int) {
	out.kind, out.flow = listNode, n.IsFlowStyle
	if n.IsFlowStyle {
		out.from, out.to = r.offset(n.Start), r.offset(n.End)+1
	}
	for i, item := range n.Values {
		path := join(out.path, strconv.Itoa(i))
		child := r.node(item, path, depth+1)
		r.doc.remember(path, child.from)
		out.items = append(out.items, child)
		if n.IsFlowStyle {
			continue
		}
		if i < len(n.Entries) {
			out.dashes = append(out.dashes, r.offset(n.Entries[i].Start))
		}
		out.to = max(out.from+1, child.to)
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
