package drawing

import (
	"bytes"
	"fmt"
	"image"
	_ "image/png" // decoding pictures laid on a scene

	"golang.org/x/image/draw"
	"golang.org/x/image/font/sfnt"
)

// outline is the shape of a rune on a body of 1, its baseline start at nought.
// The caller holds mu.
func (m *metrics) outline(r rune) *Path {
	if p, ok := m.shapes[r]; ok {
		return p
	}
	p := &Path{}
	m.shapes[r] = p
	g, err := m.font.GlyphIndex(&m.buf, r)
	if err != nil {
		return p
	}
	segs, err := m.font.LoadGlyph(&m.buf, g, m.units, nil)
	if err != nil {
		return p
	}
	at := func(s sfnt.Segment, i int) Point {
		return Pt(float64(s.Args[i].X)/64/m.em, float64(s.Args[i].Y)/64/m.em)
	}
	var last Point
	for i, s := range segs {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				p.Close()
			}
			last = at(s, 0)
			p.Move(last)
		case sfnt.SegmentOpLineTo:
			last = at(s, 0)
			p.Line(last)
		case sfnt.SegmentOpQuadTo:
			// A quadratic is the cubic whose handles go two thirds of the way to its one.
			q, end := at(s, 0), at(s, 1)
			p.Curve(last.Add(q.Sub(last).Mul(2.0/3)), end.Add(q.Sub(end).Mul(2.0/3)), end)
			last = end
		case sfnt.SegmentOpCubeTo:
			last = at(s, 2)
			p.Curve(at(s, 0), at(s, 1), last)
		}
	}
	if len(segs) > 0 {
		p.Close()
	}
	return p
}

// text draws letters from their outlines, first their surround.
func (g *rasterWriter) text(v Text) {
	if v.blank() {
		return
	}
	sin, cos := sincosDeg(v.Rotate)
	size := v.Size * g.k
	place := func(q Point) Point {
		x, y := q.X*size, q.Y*size
		return Pt(float64(x*cos)-float64(y*sin), float64(x*sin)+float64(y*cos))
	}
	back, drop := v.back(), v.drop()
	at := v.At.Add(Pt(
		-float64(back*cos)-float64(drop*sin),
		-float64(back*sin)+float64(drop*cos),
	)).Mul(g.k)
	for _, haloed := range [2]bool{true, false} {
		if haloed && v.Halo == 0 {
			continue
		}
		pen := at
		for _, sp := range v.spans() {
			c := sp.Colour
			if c == None {
				c = Ink
			}
			g.fill.reset()
			m := sp.Face.metrics()
			m.mu.Lock()
			for _, r := range shownLocked(sp.Text, m) {
				for _, l := range m.outline(r).flat(1) {
					for i, q := range l.points {
						l.points[i] = pen.Add(place(q))
					}
					if haloed {
						g.fill.stroke(l, 2*v.Halo*g.k)
					} else {
						g.fill.polygon(l.points)
					}
				}
				a, _ := m.advance(r)
				pen = pen.Add(place(Pt(a, 0)))
			}
			m.mu.Unlock()
			if haloed {
				c = Sheet
			}
			g.paint(false, g.rgba(c), 1)
		}
	}
}

// image lays a picture, stretched to its box.
func (g *rasterWriter) image(v Image) error {
	if _, err := v.kind(); err != nil {
		return err
	}
	src, _, err := image.Decode(bytes.NewReader(v.Data))
	if err != nil {
		return fmt.Errorf("read picture: %w", err)
	}
	on, _ := g.img.SubImage(g.clip).(*image.RGBA)
	draw.ApproxBiLinear.Scale(on, g.pixels(v.Box), src, src.Bounds(), draw.Over, nil)
	return nil
}
