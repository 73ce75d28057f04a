package solid

import (
	"math"
	"slices"
)

// longestCap is the longest loop whose best cap is searched. The work grows with
// its third power: some 30 ms here, and ten times that where every cap folds.
const longestCap = 192

// repairCap is a triangulated hole over the corners of its loop, numbered
// backwards round the rim; the last number is the middle, where there is one.
type repairCap struct {
	triangles [][3]int32
	middle    *Vec
	area      float64
}

// repairFiller finds caps.
type repairFiller struct {
	r     *repair
	taken map[[2]int32]bool // edges between open vertices, that no chord may repeat; only looked up
}

func (r *repair) newFiller() *repairFiller {
	f := &repairFiller{r, map[[2]int32]bool{}}
	open := make([]bool, len(r.m.Vertices))
	for h, g := range r.mate {
		if g < 0 {
			open[r.m.tail(int32(h))], open[r.m.head(int32(h))] = true, true
		}
	}
	for h := range int32(len(r.mate)) {
		if v, w := r.m.tail(h), r.m.head(h); open[v] && open[w] {
			f.taken[[2]int32{min(v, w), max(v, w)}] = true
		}
	}
	return f
}

// rimLoop is a hole as a cap sees it.
type rimLoop struct {
	vertex []int32 // of each corner
	at     []Vec
	out    []Vec // unit normal of the triangle beyond the edge from each corner to the next
	corner []int32
}

func (l *rimLoop) without(i int, out Vec) *rimLoop {
	m := &rimLoop{
		slices.Delete(slices.Clone(l.vertex), i, i+1), slices.Delete(slices.Clone(l.at), i, i+1),
		slices.Delete(slices.Clone(l.out), i, i+1), slices.Delete(slices.Clone(l.corner), i, i+1),
	}
	m.out[(i+len(m.out)-1)%len(m.out)] = out
	return m
}

func (f *repairFiller) loop(rim []int32) *rimLoop {
	n := len(rim)
	l := &rimLoop{make([]int32, n), make([]Vec, n), make([]Vec, n), make([]int32, n)}
	for j := range n {
		h := rim[(n-j)%n]
		l.vertex[j] = f.r.m.tail(h)
		l.at[j] = f.r.m.Vertices[l.vertex[j]]
		a, b, c := f.r.m.corners(f.r.m.Triangles[rim[n-1-j]/3])
		l.out[j] = b.Sub(a).Cross(c.Sub(a)).Unit()
		l.corner[j] = int32(j)
	}
	return l
}

// cap returns triangles that close the hole: the best ones for a short loop, else
// those of its shadow along the hole's axis where that is a simple outline, else
// the best ones of what is left when ears were cut off; and where none of these
// can be without repeating an edge, a fan about the middle. area is twice the
// vector area of the hole. ok is false where that folds too.
func (f *repairFiller) cap(rim []int32, area Vec) (c repairCap, ok bool) {
	l := f.loop(rim)
	tries := []func(*rimLoop, Vec) ([][3]int32, bool){f.best}
	if len(rim) > longestCap {
		tries = []func(*rimLoop, Vec) ([][3]int32, bool){f.flat, f.clipped}
	}
	for _, try := range tries {
		if c.triangles, ok = try(l, area); ok {
			break
		}
	}
	if !ok {
		middle := f.middle(l)
		c.middle = &middle
		if c.triangles, ok = f.fan(l, middle); !ok {
			return c, false
		}
	}
	n := int32(len(l.at))
	place := func(i int32) Vec {
		if i == n {
			return *c.middle
		}
		return l.at[i]
	}
	for _, t := range c.triangles {
		for k := range 3 {
			if v, w := t[k], t[(k+1)%3]; v < n && w < n {
				f.taken[[2]int32{min(l.vertex[v], l.vertex[w]), max(l.vertex[v], l.vertex[w])}] = true
			}
		}
		p, q, s := place(t[0]), place(t[1]), place(t[2])
		c.area += q.Sub(p).Cross(s.Sub(p)).Length() / 2
	}
	return c, true
}

// chordFree reports whether corners i and j may be joined.
func (f *repairFiller) chordFree(l *rimLoop, i, j int) bool {
	n := len(l.at)
	if j == i+1 || i == 0 && j == n-1 {
		return true
	}
	v, w := l.vertex[i], l.vertex[j]
	return !f.taken[[2]int32{min(v, w), max(v, w)}]
}

// capWeight says how bad a cap is: first how sharply it folds anywhere, then its
// area.
type capWeight struct {
	fold int32 // 1 − cosine of the sharpest fold, in units of capFold
	area float64
}

// capFold is the difference of two folds that counts: the rounding of a float32
// coordinate tilts a triangle by more than 2⁻²⁰ of that.
const capFold = 0x1p-20

var noCap = capWeight{math.MaxInt32, math.Inf(1)}

func (w capWeight) less(v capWeight) bool {
	return w.fold < v.fold || w.fold == v.fold && w.area < v.area
}

func foldOf(n, m Vec) int32 { return int32(math.Round((1 - n.Dot(m)) / capFold)) }

// best returns the triangulation of a loop with the least sharp fold and, among
// those, the least area: the best of i…k is one triangle i, j, k and the best of
// i…j and j…k. Source: G. Barequet and M. Sharir, "Filling gaps in the boundary
// of a polyhedron", Comput. Aided Geom. Des. 12 (1995) 207–229, section 3; the
// order of fold and area is that of P. Liepa, "Filling holes in meshes", Symp.
// Geometry Processing (2003) 200–205, section 3.
func (f *repairFiller) best(l *rimLoop, _ Vec) ([][3]int32, bool) {
	n := len(l.at)
	weight := make([]capWeight, n*n)
	middle := make([]int32, n*n)
	normal := make([]Vec, n*n) // of the triangle chosen on chord i, k; beyond a rim edge
	for i := range n {
		if i+1 < n {
			normal[i*n+i+1] = l.out[i]
		}
	}
	for gap := 2; gap < n; gap++ {
		if f.r.ctx.Err() != nil {
			return nil, false // closeHoles sees it too
		}
		for i := 0; i+gap < n; i++ {
			k := i + gap
			weight[i*n+k] = noCap
			if !f.chordFree(l, i, k) {
				continue
			}
			a, c := l.at[i], l.at[k]
			for j := i + 1; j < k; j++ {
				left, right := weight[i*n+j], weight[j*n+k]
				if left == noCap || right == noCap || max(left.fold, right.fold) > weight[i*n+k].fold {
					continue
				}
				b := l.at[j]
				cross := b.Sub(a).Cross(c.Sub(a))
				unit := cross.Unit()
				w := capWeight{
					max(left.fold, right.fold, foldOf(unit, normal[i*n+j]), foldOf(unit, normal[j*n+k])),
					left.area + right.area + cross.Length()/2,
				}
				if gap == n-1 {
					w.fold = max(w.fold, foldOf(unit, l.out[n-1]))
				}
				if w.less(weight[i*n+k]) && !Collinear(a, b, c) {
					weight[i*n+k], middle[i*n+k], normal[i*n+k] = w, int32(j), unit
				}
			}
		}
	}
	if weight[n-1] == noCap {
		return nil, false
	}
	var out [][3]int32
	todo := [][2]int32{{0, int32(n - 1)}}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if s[1]-s[0] < 2 {
			continue
		}
		j := middle[int(s[0])*n+int(s[1])]
		out = append(out, [3]int32{l.corner[s[0]], l.corner[j], l.corner[s[1]]})
		todo = append(todo, [2]int32{s[0], j}, [2]int32{j, s[1]})
	}
	return out, true
}
