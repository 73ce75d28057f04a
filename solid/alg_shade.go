package solid

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Shade returns a shaded picture of solids in a view, to lie under the lines that
// [Kernel.Project] draws of it. The picture is sampled and only a picture: no
// length or visibility is to be read from it.
//
// A triangle's samples are those whose middles it covers, the nearest to the eye
// wins (a depth buffer; E. Catmull, "A subdivision algorithm for computer display
// of curved surfaces", 1974). Brightness is [ambient] plus the rest by the cosine
// of the angle to the light (J. H. Lambert, "Photometria", 1760), with normals
// run on between corners (B. T. Phong, 1975) unless flat. The other side of an
// open surface is as bright as if it had a face.
func (k Kernel) Shade(ctx context.Context, solids []Placed, v View, o ShadeOptions) (Raster, error) {
	if err := o.check(); err != nil {
		return Raster{}, err
	}
	if o.Samples == 0 {
		o.Samples = 4
	}
	if o.Light == (Vec{}) {
		o.Light = UpperLeft()
	}
	s, err := k.newScene(ctx, solids, v)
	if err != nil {
		return Raster{}, err
	}
	corner, err := k.cornerNormals(ctx, s, o.Flat)
	if err != nil {
		return Raster{}, err
	}
	r := Raster{Width: o.Width, Height: o.Height}
	r.Light, r.Cover = make([]uint8, o.Width*o.Height), make([]uint8, o.Width*o.Height)
	p := painter{scene: s, corner: corner, light: o.Light.Unit(), o: o}
	for axis, n := range [2]int{o.Width, o.Height} {
		p.scale[axis] = float64(n*o.Samples) / (o.High[axis] - o.Low[axis])
	}
	bands := p.deal()
	err = k.each(ctx, "shading", len(bands), 1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			p.band(ctx, &r, i, bands[i])
		}
	})
	if err != nil {
		return Raster{}, err
	}
	return r, nil
}

// ambient is the brightness of a face that no light reaches: dark enough to tell,
// light enough for ink on it. Common practice.
const ambient = 0.35

// bandRows is the number of pixel rows that one worker paints at a time.
const bandRows = 16

type painter struct {
	scene  *scene
	corner []Vec // normal at every half-edge's start; nil: flat
	light  Vec
	o      ShadeOptions
	scale  Point // samples a millimetre
}

// sample returns the place of a point in samples, x from the left, y from the top.
func (p *painter) sample(q Vec) (x, y float64) {
	return (q[0] - p.o.Low[0]) * p.scale[0], (p.o.High[1] - q[1]) * p.scale[1]
}

// deal lists for every band of rows the triangles that may show in it, those
// nearest to the eye first: what they cover is then not painted again and again.
func (p *painter) deal() [][]int32 {
	order := make([]int32, len(p.scene.mesh.Triangles))
	nearest := make([]float64, len(order))
	for t := range order {
		a, b, c := p.scene.mesh.corners(p.scene.mesh.Triangles[t])
		order[t], nearest[t] = int32(t), max(a[2], b[2], c[2])
	}
	slices.SortStableFunc(order, func(s, t int32) int { return cmp.Compare(nearest[t], nearest[s]) })
	bands := make([][]int32, (p.o.Height+bandRows-1)/bandRows)
	rows := float64(bandRows * p.o.Samples)
	for _, t := range order {
		if p.scene.normal[t][2] == 0 {
			continue
		}
		a, b, c := p.scene.mesh.corners(p.scene.mesh.Triangles[t])
		_, top := p.sample(Vec{0, max(a[1], b[1], c[1])})
		_, foot := p.sample(Vec{0, min(a[1], b[1], c[1])})
		if !(foot >= 0) || !(top < rows*float64(len(bands))) {
			continue
		}
		first, last := int(max(0, top/rows)), int(min(foot/rows, float64(len(bands)-1)))
		for i := first; i <= last; i++ {
			bands[i] = append(bands[i], t)
		}
	}
	return bands
}

// band paints some rows of the raster, and writes to no other.
func (p *painter) band(ctx context.Context, r *Raster, number int, triangles []int32) {
	n := p.o.Samples
	low := number * bandRows
	high := min(low+bandRows, r.Height)
	wide := r.Width * n
	depth := make([]float64, wide*(high-low)*n)
	shade := make([]float32, len(depth))
	for i := range depth {
		depth[i] = math.Inf(-1)
	}
	for i, t := range triangles {
		if i%treeLooks == 0 && ctx.Err() != nil {
			return
		}
		p.paint(t, low*n, high*n, wide, depth, shade)
	}
	for y := low; y < high; y++ {
		for x := range r.Width {
			sum, count := float32(0), 0
			for j := range n {
				at := ((y-low)*n+j)*wide + x*n
				for i := range n {
					if depth[at+i] > math.Inf(-1) {
						sum += shade[at+i]
						count++
					}
				}
			}
			if count > 0 {
				r.Light[y*r.Width+x] = uint8(sum/float32(count)*255 + 0.5)
				r.Cover[y*r.Width+x] = uint8((count*255 + n*n/2) / (n * n))
			}
		}
	}
}

// paint paints a triangle into rows low to high−1 of samples.
func (p *painter) paint(t int32, low, high, wide int, depth []float64, shade []float32) {
	s := p.scene
	tri := s.mesh.Triangles[t]
	var x, y, z [3]float64
	for i, v := range tri {
		x[i], y[i] = p.sample(s.mesh.Vertices[v])
		z[i] = s.mesh.Vertices[v][2]
	}
	area := float64((x[1]-x[0])*(y[2]-y[0])) - float64((x[2]-x[0])*(y[1]-y[0]))
	if area == 0 {
		return
	}
	normals := [3]Vec{s.normal[t], s.normal[t], s.normal[t]}
	if p.corner != nil {
		copy(normals[:], p.corner[3*t:3*t+3])
	}
	if s.normal[t][2] < 0 { // the inside of an open surface, seen from behind
		for i := range normals {
			normals[i] = normals[i].Scale(-1)
		}
	}
	first := max(low, int(math.Ceil(max(min(y[0], y[1], y[2])-0.5, float64(low)))))
	last := int(math.Floor(min(max(y[0], y[1], y[2])-0.5, float64(high-1))))
	for row := first; row <= last; row++ {
		py := float64(row) + 0.5
		from, to := p.span(x, y, py, wide)
		for col := from; col <= to; col++ {
			px := float64(col) + 0.5
			u := (float64((x[1]-px)*(y[2]-py)) - float64((x[2]-px)*(y[1]-py))) / area
			v := (float64((x[2]-px)*(y[0]-py)) - float64((x[0]-px)*(y[2]-py))) / area
			w := 1 - u - v
			at := (row-low)*wide + col
			d := float64(u*z[0]) + float64(v*z[1]) + float64(w*z[2])
			if d <= depth[at] {
				continue
			}
			depth[at] = d
			n := normals[0].Scale(u).Add(normals[1].Scale(v)).Add(normals[2].Scale(w)).Unit()
			shade[at] = float32(p.brightness(n))
		}
	}
}

// span returns the columns whose middles a row of a triangle covers: from where
// the row enters it to before where it leaves, so that neighbours share none.
func (p *painter) span(x, y [3]float64, py float64, wide int) (from, to int) {
	left, right := math.Inf(1), math.Inf(-1)
	for i := range 3 {
		j := (i + 1) % 3
		a, b := i, j
		if y[a] > y[b] || y[a] == y[b] && x[a] > x[b] {
			a, b = b, a // the same bits from both triangles of an edge
		}
		if !(y[a] <= py && py < y[b]) {
			continue
		}
		at := x[a] + float64((py-y[a])/(y[b]-y[a])*(x[b]-x[a]))
		left, right = min(left, at), max(right, at)
	}
	if !(left < right) {
		return 0, -1
	}
	from = int(max(0, math.Ceil(min(left-0.5, float64(wide)))))
	to = int(math.Ceil(max(-1, min(right-0.5, float64(wide))))) - 1
	return from, to
}

// brightness of a face by its normal.
func (p *painter) brightness(n Vec) float64 {
	return ambient + (1-ambient)*max(0, n.Dot(p.light))
}

// cornerNormals returns the normal at every corner of every triangle: the mean of
// the triangles round the vertex that can be reached without an edge that turns by
// the crease angle, weighted by their angle at the vertex (G. Thürmer and
// C. A. Wüthrich, "Computing vertex normals from polygonal facets", 1998).
func (k Kernel) cornerNormals(ctx context.Context, s *scene, flat bool) ([]Vec, error) {
	if flat {
		return nil, nil
	}
	var err error
	if s.twin, err = k.twins(ctx, s.mesh); err != nil {
		return nil, err
	}
	out := make([]Vec, 3*len(s.mesh.Triangles))
	err = k.each(ctx, "normals", len(out), treeGrain, func(lo, hi int) {
		for h := int32(lo); h < int32(hi); h++ {
			out[h] = s.cornerNormal(h)
		}
	})
	return out, err
}

// mostRound is how many triangles round a vertex are asked, each way: more than
// any but the tip of a fine cone has.
const mostRound = 64

func (s *scene) cornerNormal(h int32) Vec {
	sum := s.normal[h/3].Scale(s.angle(h))
	// One way round the vertex, then the other.
	at := h
	for range mostRound {
		next := s.twin[prevHalf(at)] // starts at the vertex too
		if next < 0 || next == h || s.normal[at/3].Dot(s.normal[next/3]) <= s.crease {
			break
		}
		at = next
		sum = sum.Add(s.normal[at/3].Scale(s.angle(at)))
	}
	if s.twin[prevHalf(at)] == h {
		return sum.Unit()
	}
	at = h
	for range mostRound {
		twin := s.twin[at]
		if twin < 0 {
			break
		}
		next := nextHalf(twin)
		if next == h || s.normal[at/3].Dot(s.normal[next/3]) <= s.crease {
			break
		}
		at = next
		sum = sum.Add(s.normal[at/3].Scale(s.angle(at)))
	}
	return sum.Unit()
}

// angle returns the angle of a triangle at the start of a half-edge.
func (s *scene) angle(h int32) float64 {
	o := s.mesh.Vertices[s.mesh.tail(h)]
	a := s.mesh.Vertices[s.mesh.head(h)].Sub(o)
	b := s.mesh.Vertices[s.mesh.tail(prevHalf(h))].Sub(o)
	return math.Atan2(a.Cross(b).Length(), a.Dot(b))
}
