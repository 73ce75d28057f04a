package solid

import "slices"

// eachEdge calls visit for every edge, ordered by lower then higher vertex,
// with the half-edges along it in ascending order. The slice is only lent.
// Indices must be in range.
func (m Mesh) eachEdge(visit func(lo, hi int32, halves []int32)) {
	// Half-edges are dealt into one bucket a lower vertex (a counting sort), and
	// each short bucket sorted by higher vertex and number: linear in practice.
	start := make([]int32, len(m.Vertices)+1)
	for _, t := range m.Triangles {
		for k := range 3 {
			start[min(t[k], t[(k+1)%3])+1]++
		}
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	fill := slices.Clone(start)
	keys := make([]uint64, 3*len(m.Triangles))
	for i, t := range m.Triangles {
		for k := range 3 {
			lo, hi := t[k], t[(k+1)%3]
			if lo > hi {
				lo, hi = hi, lo
			}
			keys[fill[lo]] = uint64(hi)<<32 | uint64(3*i+k)
			fill[lo]++
		}
	}
	var halves []int32
	for lo := range m.Vertices {
		bucket := keys[start[lo]:start[lo+1]]
		slices.Sort(bucket)
		for i := 0; i < len(bucket); {
			hi := bucket[i] >> 32
			halves = halves[:0]
			for ; i < len(bucket) && bucket[i]>>32 == hi; i++ {
				halves = append(halves, int32(bucket[i]))
			}
			visit(int32(lo), int32(hi), halves)
		}
	}
}

// tail returns the vertex half-edge h starts at.
func (m Mesh) tail(h int32) int32 { return m.Triangles[h/3][h%3] }

// head returns the vertex half-edge h ends at.
func (m Mesh) head(h int32) int32 { return m.Triangles[h/3][(h%3+1)%3] }

// nextHalf returns the half-edge after h in its triangle.
func nextHalf(h int32) int32 { return h - h%3 + (h%3+1)%3 }

// prevHalf returns the half-edge before h in its triangle.
func prevHalf(h int32) int32 { return h - h%3 + (h%3+2)%3 }

// Opposites returns for every half-edge the one that runs the other way along
// the same edge in the neighbouring triangle. The mesh must be closed with two
// triangles at every edge; otherwise the error is a [*NotSolidError].
func (m Mesh) Opposites() ([]int32, error) {
	if faults := m.checkNumbers(); len(faults) > 0 {
		return nil, &NotSolidError{Faults: faults}
	}
	opposite := make([]int32, 3*len(m.Triangles))
	var faults []Fault
	m.eachEdge(func(lo, hi int32, halves []int32) {
		if f, bad := m.edgeFault(lo, hi, halves); bad {
			faults = append(faults, f)
			return
		}
		opposite[halves[0]], opposite[halves[1]] = halves[1], halves[0]
	})
	if len(faults) > 0 {
		return nil, &NotSolidError{Faults: faults}
	}
	return opposite, nil
}

// sets is a union-find whose root is always the lowest member, so that labels
// don't depend on the order of joining.
type sets []int32

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

func (s sets) find(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]] // path halving
		i = s[i]
	}
	return i
}

func (s sets) join(i, j int32) {
	i, j = s.find(i), s.find(j)
	if i < j {
		s[j] = i
	} else {
		s[i] = j
	}
}

// labels numbers the sets by their lowest member.
func (s sets) labels() (label []int32, n int) {
	label = make([]int32, len(s))
	for i := range s {
		if r := s.find(int32(i)); r == int32(i) {
			label[i] = int32(n)
			n++
		} else {
			label[i] = label[r]
		}
	}
	return label, n
}
