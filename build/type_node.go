package build

// nodeKind is what a node of a document is.
type nodeKind uint8

const (
	scalarNode nodeKind = iota
	nothingNode
	mappingNode
	listNode
)

func (k nodeKind) String() string {
	return [...]string{"text", "nothing", "a mapping", "a list"}[k]
}

// node is a value of a document with its place in the text. Offsets count
// bytes from 0.
type node struct {
	kind    nodeKind
	text    string // of a scalar, without quotes
	quoted  bool
	block   bool // a scalar in block style ("|", ">")
	flow    bool // a mapping or list in brackets
	from    int  // where it begins; of nothing: where it would begin
	to      int  // behind its last byte
	path    string
	entries []entry // of a mapping, as written
	items   []*node // of a list
	dashes  []int   // of a list in block style: where the dash of each item stands
}

// entry is a key of a mapping with its value.
type entry struct {
	key      string
	from, to int // of the key
	value    *node
}

// child is the value of a key, nil when there is none.
func (n *node) child(key string) *node {
	if n == nil || n.kind != mappingNode {
		return nil
	}
	for _, e := range n.entries {
		if e.key == key {
			return e.value
		}
	}
	return nil
}

// same reports whether two trees say the same, wherever they stand.
func (n *node) same(m *node) bool {
	if n == nil || m == nil {
		return n == m
	}
	if n.kind != m.kind || n.text != m.text || len(n.entries) != len(m.entries) || len(n.items) != len(m.items) {
		return false
	}
	if n.kind == scalarNode && n.quoted != m.quoted {
		return false
	}
	for i, e := range n.entries {
		if e.key != m.entries[i].key || !e.value.same(m.entries[i].value) {
			return false
		}
	}
	for i, item := range n.items {
		if !item.same(m.items[i]) {
			return false
		}
	}
	return true
}
