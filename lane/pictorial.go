package lane

import (
	"bytes"
	"cmp"
	"context"
	"image/color"
	"image/png"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/solid"
)

// From where pictures of solids are seen: turned out of the elevation towards the
// foot, so that the ends seen have the light, and raised. Some 20° show a round end as an ellipse a third as wide as it
// is high. Common practice of pictorial drawing.
const (
	aslantTurn  = -20 * math.Pi / 180
	aslantRaise = 18 * math.Pi / 180
)

// pictured is a solid in a picture: moved, in a tint.
type pictured struct {
	id   string
	mesh solid.Mesh
	at   solid.Transform
	fill drawing.Colour
}

// pictorial is a picture of solids in parallel projection: tints, shade over them,
// and the visible lines.
type pictorial struct {
	solids []pictured
	placed []solid.Placed
	view   solid.View
	seen   solid.Projection
	// Low and high are the corners of what is seen, mm at full size.
	low, high solid.Point
}

// newPictorial finds what is seen; false where there is nothing.
func newPictorial(solids []pictured, v solid.View) (pictorial, bool) {
	p := pictorial{solids: solids, view: v}
	for _, s := range solids {
		p.placed = append(p.placed, solid.Placed{ID: s.id, Mesh: s.mesh, At: s.at})
	}
	var err error
	if p.seen, err = (solid.Kernel{}).Project(context.Background(), p.placed, v); err != nil {
		return p, false // numbers that are none; the stages have said so
	}
	var ok bool
	p.low, p.high, ok = p.seen.Bounds()
	return p, ok
}

func (p pictorial) width() float64  { return p.high[0] - p.low[0] }
func (p pictorial) height() float64 { return p.high[1] - p.low[1] }

// laid is a picture on paper: at k mm a mm, its upper left corner at a place.
type laid struct {
	pictorial

	k     float64
	at    drawing.Point
	see   view
	order []int           // of the solids, the one farthest from the eye first
	fills []*drawing.Path // of the solids, what each would cover alone
}

func (p pictorial) lay(k float64, at drawing.Point) laid {
	f := p.seen.Frame
	l := laid{pictorial: p, k: k, at: at, order: p.fromBehind()}
	l.see = func(v solid.Vec) drawing.Point {
		return drawing.Pt(at.X+(v.Dot(f.U)-p.low[0])*k, at.Y+(p.high[1]-v.Dot(f.V))*k)
	}
	for _, one := range p.placed {
		l.fills = append(l.fills, contour(one.Mesh.Transform(one.At), l.see))
	}
	return l
}

// pens are the strokes of a picture's lines.
type pens struct{ outline, crease drawing.Stroke }

// draw draws the picture. Tints are laid from the farthest solid to the nearest;
// shade and lines are exact wherever solids hide one another.
func (l laid) draw(s *drawing.Scene, with pens) {
	for _, i := range l.order {
		s.Path(l.fills[i], drawing.Filled(l.solids[i].fill))
	}
	l.shade(s)
	outline, crease := &drawing.Path{}, &drawing.Path{}
	for _, line := range withoutSpecks(l.seen, l.k) {
		path := crease
		if line.Kind == solid.Silhouette || line.Kind == solid.Boundary {
			path = outline
		}
		points := onSheet(line, l.seen.Frame, l.see)
		if last := len(points) - 1; last > 2 && points[last] == points[0] {
			path.Append(drawing.Polygon(points[:last]...))
		} else {
			path.Append(drawing.Polyline(points...))
		}
	}
	s.Path(crease, drawing.Lined(with.crease))
	s.Path(outline, drawing.Lined(with.outline))
}

// fromBehind are the solids with the one farthest from the eye first, by the middle
// of each.
func (p pictorial) fromBehind() []int {
	order, depth := make([]int, len(p.solids)), make([]float64, len(p.solids))
	for i, one := range p.placed {
		b := one.Mesh.Transform(one.At).Bounds()
		order[i], depth[i] = i, p.view.Eye.Dot(b.Min.Add(b.Max))
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(depth[a], depth[b]) })
	return order
}

// Of a picture's shade: dots a mm of paper (100 to the inch; lines are drawn as
// lines), and how dark the darkest face is, of 1. Lettering and lines stay readable
// over it. Common practice.
const (
	shadeDots    = 4.0
	shadeDarkest = 0.55
)

// overShoulder is where the light comes from: over the left shoulder, as drawing
// boards have it, and from so near the eye that what faces it is light.
var overShoulder = solid.Vec{-1, 1.2, 1.8}

// shade lays the picture's shade: black that lets the tint through, so that it
// serves every palette.
func (l laid) shade(s *drawing.Scene) {
	dots := shadeDots
	wide, high := math.Ceil(l.width()*l.k*dots), math.Ceil(l.height()*l.k*dots)
	o := solid.ShadeOptions{
		Width: max(1, int(wide)), Height: max(1, int(high)), Samples: 2,
		Low:   solid.Point{l.low[0], l.high[1] - high/dots/l.k},
		High:  solid.Point{l.low[0] + wide/dots/l.k, l.high[1]},
		Light: overShoulder,
	}
	r, err := solid.Kernel{}.Shade(context.Background(), l.placed, l.view, o)
	if err != nil {
		return // larger than any sheet
	}
	img := r.Image(color.Black, color.Black)
	for i, light := range r.Light {
		dark := shadeDarkest * (1 - float64(light)/255)
		img.Pix[4*i+3] = uint8(dark*float64(r.Cover[i]) + 0.5)
	}
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		panic("lane: internal error: a picture that cannot be written: " + err.Error())
	}
	s.Image(drawing.Image{Box: drawing.Rect{X: l.at.X, Y: l.at.Y, W: wide / dots, H: high / dots}, Data: file.Bytes(), Alt: s.Title})
}

// axes are the directions of the build that show to the right, up and at the eye
// where it is seen from a side.
type axes struct{ right, up, eye solid.Vec }

func axesOf(see func(solid.Vec) solid.Point) axes {
	var a axes
	for k := range a.right {
		v := solid.Vec{}
		v[k] = 1
		p := see(v)
		a.right[k], a.up[k] = p[0], p[1]
	}
	a.eye = a.right.Cross(a.up)
	return a
}

// aslant is the view turned towards the right and raised. What runs along the
// straight direction, right or up, does so on the paper too.
func (a axes) aslant(turn, raise float64, upright bool) solid.View {
	sin, cos := math.Sincos(turn)
	sinUp, cosUp := math.Sincos(raise)
	if upright {
		eye := a.eye.Scale(cos).Add(a.right.Scale(sin)).Scale(cosUp).Add(a.up.Scale(sinUp))
		return solid.View{Eye: eye, Up: a.up}
	}
	eye := a.eye.Scale(cosUp).Add(a.up.Scale(sinUp)).Scale(cos).Add(a.right.Scale(sin))
	return solid.View{Eye: eye, Up: eye.Cross(a.right)}
}

// Picture is a piece as it stands on its platform, shaded, as large as the box
// takes it: from above, or from under the platform; nil of nothing.
func Picture(r job.Result, i int, width, height float64, below bool) *drawing.Scene {
	raise, words := 28*math.Pi/180, ", from above"
	if below {
		raise, words = -raise, ", from below"
	}
	v := axesOf(fromFront).aslant(-30*math.Pi/180, raise, true)
	one := pictured{mesh: r.Carved[i].Solid, at: r.Prints[i].Placement, fill: tintOf(r, i)}
	p, ok := newPictorial([]pictured{one}, v)
	if !ok {
		return nil
	}
	k := min(width/p.width(), height/p.height())
	s := drawing.New(width, p.height()*k)
	s.Title = r.Division.Pieces[i].Name + words
	p.lay(k, drawing.Pt((width-p.width()*k)/2, 0)).draw(s, pens{drawing.Object, drawing.Fine})
	return s
}

// So many places across and up a solid are tried for a leader's tip, which lies so
// far inside what is seen of it where it can, mm of paper.
const tipGrid = 24

var tipClear = [...]float64{1.5, 0.5, 0}

// tip is where a leader points at a solid: a place of it that is seen, as near as
// may be to a share of what it covers from the left and from the top.
func (l laid) tip(i int, across, down float64) drawing.Point {
	b := l.fills[i].Bounds()
	ground := drawing.NewGround(b)
	ground.Fill(l.fills[i], true)
	for n := slices.Index(l.order, i) + 1; n < len(l.order); n++ {
		if nearer := l.fills[l.order[n]]; nearer.Bounds().Overlaps(b) {
			ground.Fill(nearer, false)
		}
	}
	wanted := drawing.Pt(b.X+b.W*across, b.Y+b.H*down)
	for _, clear := range tipClear {
		best, found := math.Inf(1), drawing.Point{}
		for x := range tipGrid {
			for y := range tipGrid {
				p := drawing.Pt(b.X+b.W*(float64(x)+0.5)/tipGrid, b.Y+b.H*(float64(y)+0.5)/tipGrid)
				d := p.Dist(wanted)
				if d < best && ground.Holds(drawing.Rect{X: p.X, Y: p.Y}.Inset(-clear)) {
					best, found = d, p
				}
			}
		}
		if !math.IsInf(best, 1) {
			return found
		}
	}
	return b.Centre()
}
