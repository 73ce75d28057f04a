package photograph

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// Draw takes the photograph: the JPEG file as the camera wrote it, and the truth
// with its mask. The error is the context's.
func (s Scene) Draw(ctx context.Context) (file []byte, truth Truth, err error) {
	s.printSheets()
	shade := s.castShade()
	c := &canvas{w: s.w, h: s.h, rgb: make([]float32, 3*s.w*s.h), mask: make([]uint8, s.w*s.h)}
	g := newGround(&s, shade)
	if err := g.draw(ctx, c); err != nil {
		return nil, Truth{}, err
	}
	if err := s.drawBody(ctx, c, g); err != nil {
		return nil, Truth{}, err
	}
	c.blur(s.film.blur)
	img := c.develop(&s.film, s.lens.cx, s.lens.cy)
	var out bytes.Buffer
	if err := jpeg.Encode(&out, stored(img, s.orientation), &jpeg.Options{Quality: s.quality}); err != nil {
		panic("photograph: internal error: " + err.Error())
	}
	truth = s.truth()
	truth.Coverage = &image.Gray{Pix: c.mask, Stride: s.w, Rect: image.Rect(0, 0, s.w, s.h)}
	return withEXIF(out.Bytes(), &s), truth, ctx.Err()
}

// nodeStep is how far apart the lens is inverted exactly, px; between, what it sees
// is interpolated. Its bend is below 1e-4 a pixel, so a bilinear patch of 8 px is
// within 8²/8·1e-4 = 0.001 px.
const nodeStep = 8

// node is what the pixels near it share.
type node struct {
	x, y  float64
	lamps [2]float64
}

// rowOf interpolates the nodes for one row of pixels.
func (g *ground) rowOf(nodes [][]node, y int, out []node) {
	j, f := y/nodeStep, float64(y%nodeStep)/nodeStep
	for i := range out {
		a, b := &nodes[j][i], &nodes[j+1][i]
		out[i] = between(a, b, f)
	}
}

func between(a, b *node, f float64) node {
	n := node{x: a.x + f*(b.x-a.x), y: a.y + f*(b.y-a.y)}
	n.lamps[0] = a.lamps[0] + f*(b.lamps[0]-a.lamps[0])
	n.lamps[1] = a.lamps[1] + f*(b.lamps[1]-a.lamps[1])
	return n
}

func (g *ground) draw(ctx context.Context, c *canvas) error {
	nodes := make([][]node, c.h/nodeStep+2)
	for j := range nodes {
		nodes[j] = make([]node, c.w/nodeStep+2)
		for i := range nodes[j] {
			nodes[j][i] = g.node(float64(i*nodeStep), float64(j*nodeStep))
		}
	}
	row := make([]node, len(nodes[0]))
	for y := range c.h {
		if y%64 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		g.rowOf(nodes, y, row)
		j := y / nodeStep
		for i := 0; i*nodeStep < c.w; i++ {
			a, b := &row[i], &row[i+1]
			p := place{
				wx: math.Hypot(b.x-a.x, nodes[j+1][i].x-nodes[j][i].x) / nodeStep,
				wy: math.Hypot(b.y-a.y, nodes[j+1][i].y-nodes[j][i].y) / nodeStep,
			}
			for x := i * nodeStep; x < min(c.w, (i+1)*nodeStep); x++ {
				n := between(a, b, float64(x-i*nodeStep)/nodeStep)
				p.x, p.y, p.lamps = n.x, n.y, n.lamps
				c.set(x, y, g.radiance(p))
			}
		}
	}
	return nil
}

func (g *ground) node(u, v float64) node {
	var n node
	n.x, n.y = g.s.lens.ground(u, v, 0)
	for k := range g.s.light.lamps {
		n.lamps[k] = g.s.light.irradiance(k, r3.Vec{X: n.x, Y: n.y})
	}
	return n
}

// place is what one pixel, or a part of it, sees of the ground; slow and exact.
func (g *ground) place(u, v, width float64) place {
	n, a, b := g.node(u, v), g.node(u+width, v), g.node(u, v+width)
	return place{
		x: n.x, y: n.y, lamps: n.lamps,
		wx: math.Hypot(a.x-n.x, b.x-n.x), wy: math.Hypot(a.y-n.y, b.y-n.y),
	}
}

// fine is the side of the raster of rays in a pixel that an edge crosses.
const fine = 6

// drawBody casts a ray through the middle of every pixel that could show the body;
// pixels beside another thing or another face are cast again, finely.
func (s *Scene) drawBody(ctx context.Context, c *canvas, g *ground) error {
	x0, y0, x1, y1 := s.frame()
	w, h := x1-x0, y1-y0
	if w <= 0 || h <= 0 {
		return nil
	}
	sf := &surface{s: s, g: g, rng: rand.New(rand.NewPCG(s.light.seed, 11))}
	o := s.body.own(s.lens.c)
	on := make([]int32, w*h)
	for y := range h {
		if y%64 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		for x := range w {
			d := s.body.ownDir(s.lens.ray(float64(x0+x), float64(y0+y)))
			hit, ok := s.body.meet(o, d)
			if !ok {
				continue
			}
			on[y*w+x] = s.patch(hit)
			c.set(x0+x, y0+y, sf.radiance(hit, d))
			c.mask[(y0+y)*c.w+x0+x] = 255
		}
	}
	for y := range h {
		for x := range w {
			k := y*w + x
			if x > 0 && y > 0 && x < w-1 && y < h-1 && alike(on, k, w) {
				continue
			}
			var sum colour
			seen := 0
			for q := range fine * fine {
				u := float64(x0+x) + (float64(q%fine)+0.5)/fine - 0.5
				v := float64(y0+y) + (float64(q/fine)+0.5)/fine - 0.5
				d := s.body.ownDir(s.lens.ray(u, v))
				if hit, ok := s.body.meet(o, d); ok {
					seen++
					sum = sum.plus(sf.radiance(hit, d))
				}
			}
			if seen == 0 && on[k] == 0 {
				continue
			}
			// Highlights are held to what the sensor can count before they are averaged,
			// or one bright point would whiten the whole edge.
			v := g.radiance(g.place(float64(x0+x), float64(y0+y), 1)).times(1 - float64(seen)/(fine*fine))
			c.set(x0+x, y0+y, v.plus(sum.times(1.0/(fine*fine))))
			c.mask[(y0+y)*c.w+x0+x] = uint8(math.Round(255 * float64(seen) / (fine * fine)))
		}
	}
	return nil
}

// patch numbers the faces between which an edge is to be seen.
func (s *Scene) patch(h hit) int32 {
	if h.on < 0 {
		side := 0
		if h.n.X > 0.5 || h.n.X < -0.5 {
			side = 1
		} else if h.n.Z < 0 {
			side = 2
		}
		return int32(3*h.on - side)
	}
	b := s.body
	for i := range b.segs {
		if &b.segs[i] == b.fr[h.on-1].of {
			return int32(i + 1)
		}
	}
	return 0
}

func alike(on []int32, k, w int) bool {
	v := on[k]
	for _, d := range [8]int{-w - 1, -w, -w + 1, -1, 1, w - 1, w, w + 1} {
		if on[k+d] != v {
			return false
		}
	}
	return true
}

// frame is the box of pixels that could show the body, held to the picture.
func (s *Scene) frame() (x0, y0, x1, y1 int) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range s.body.hull() {
		u, v := s.lens.project(p)
		lo = [2]float64{min(lo[0], u), min(lo[1], v)}
		hi = [2]float64{max(hi[0], u), max(hi[1], v)}
	}
	const spare = 6
	return max(0, int(lo[0])-spare), max(0, int(lo[1])-spare), min(s.w, int(hi[0])+spare), min(s.h, int(hi[1])+spare)
}

// hull is points of the world whose hull holds the body, but for slivers.
func (b *body) hull() (out []r3.Vec) {
	for _, f := range b.fr {
		for k := range 32 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 16)
			out = append(out, b.world(r3.Vec{X: f.s0, Y: f.r0 * cos, Z: f.r0 * sin}), b.world(r3.Vec{X: f.s1, Y: f.r1 * cos, Z: f.r1 * sin}))
		}
	}
	for _, f := range b.fins {
		sin, cos := math.Sincos(f.clock)
		for _, p := range f.poly {
			for _, t := range [2]float64{-f.thick / 2, f.thick / 2} {
				out = append(out, b.world(r3.Vec{X: p[0], Y: p[1]*cos - t*sin, Z: p[1]*sin + t*cos}))
			}
		}
	}
	for _, p := range b.plates {
		for k := range p.sides {
			sin, cos := math.Sincos(p.clock + 2*math.Pi*(float64(k)+0.5)/float64(p.sides))
			for _, s := range [2]float64{p.s0, p.s1} {
				out = append(out, b.world(r3.Vec{X: s, Y: p.corner() * cos, Z: p.corner() * sin}))
			}
		}
	}
	return out
}
