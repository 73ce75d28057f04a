package solid

// touching calls visit for every triangle whose box meets the given one.
func (t *Tree) touching(box treeBox, visit func(face int32)) {
	if len(t.nodes) == 0 {
		return
	}
	var room [treeDepth]int32
	stack := append(room[:0], 0)
	for len(stack) > 0 {
		node := &t.nodes[stack[len(stack)-1]]
		stack = stack[:len(stack)-1]
		for k := range 2 {
			if !node.box[k].meets(&box) {
				continue
			}
			if node.count[k] == 0 {
				stack = append(stack, node.at[k])
				continue
			}
			for i := node.at[k]; i < node.at[k]+node.count[k]; i++ {
				if face := t.faceBox(i); face.meets(&box) {
					visit(t.order[i])
				}
			}
		}
	}
}
