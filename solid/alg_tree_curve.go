package solid

import "math/bits"

// treeCurve gives every triangle its place on a space-filling curve.
type treeCurve struct {
	low       Vec
	scale     Vec
	axisBits  int
	indexBits int
}

func newTreeCurve(b Bounds, n int) treeCurve {
	c := treeCurve{low: b.Min, indexBits: bits.Len(uint(n - 1))}
	c.axisBits = min(21, (64-c.indexBits)/3)
	size := b.Size()
	longest := max(size[0], size[1], size[2])
	for k := range 3 {
		if longest > 0 {
			c.scale[k] = float64(uint64(1)<<c.axisBits-1) / longest
		}
	}
	return c
}

func (c *treeCurve) key(m *Mesh, i int) uint64 {
	t := m.Triangles[i]
	p, q, r := &m.Vertices[t[0]], &m.Vertices[t[1]], &m.Vertices[t[2]]
	box := treeBoxOf(p, q, r)
	var code uint64
	for k := range 3 {
		middle := box[0][k]/2 + box[1][k]/2 - c.low[k]
		code |= treeSpread(uint64(float64(middle*c.scale[k]))) << (2 - k)
	}
	return code<<c.indexBits | uint64(i)
}

// treeSpread puts two zeros between the lowest 21 bits of x.
func treeSpread(x uint64) uint64 {
	x = (x | x<<32) & 0x1f00000000ffff
	x = (x | x<<16) & 0x1f0000ff0000ff
	x = (x | x<<8) & 0x100f00f00f00f00f
	x = (x | x<<4) & 0x10c30c30c30c30c3
	return (x | x<<2) & 0x1249249249249249
}

// treeSort sorts by the bits from low up, eleven at a time, and keeps the order
// of equals.
func treeSort(keys []uint64, low int) []uint64 {
	const width = 11
	other := make([]uint64, len(keys))
	for shift := low; shift < 64; shift += width {
		var start [1 << width]int32
		for _, k := range keys {
			start[k>>shift&(1<<width-1)]++
		}
		if start[keys[0]>>shift&(1<<width-1)] == int32(len(keys)) {
			continue // all alike in these bits
		}
		sum := int32(0)
		for d, n := range start {
			start[d] = sum
			sum += n
		}
		for _, k := range keys {
			d := k >> shift & (1<<width - 1)
			other[start[d]] = k
			start[d]++
		}
		keys, other = other, keys
	}
	return keys
}
