package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// flat are the outlines of flat pieces, those of copies once.
func (t *templates) flat() {
	type same struct {
		declared, from, to string
		direction          model.Direction
	}
	seen := map[same]int{}
	for i, p := range t.r.Division.Pieces {
		if p.ID.Kind != model.Slice || p.Direction != model.Lying {
			continue
		}
		part := partOf(t.r, p)
		key := same{part.Declared, p.ID.From, p.ID.To, p.Direction}
		if part.Declared != part.ID && t.alikes(part.Declared, p.ID) > 1 {
			if seen[key]++; seen[key] > 1 {
				continue
			}
		}
		t.flatPiece(i, part)
	}
}

// alikes is how many pieces the copies of a part have between two bounds.
func (t *templates) alikes(declared string, id model.PieceID) int {
	n := 0
	for _, p := range t.r.Division.Pieces {
		if p.ID.Kind == model.Slice && p.ID.From == id.From && p.ID.To == id.To && partOf(t.r, p).Declared == declared {
			n++
		}
	}
	return n
}

// largestFace is a place well inside a flat piece: the middle of the largest
// triangle that looks at the eye.
func largestFace(m solid.Mesh, see view) drawing.Point {
	at, most := drawing.Point{}, 0.0
	eye := see.eye()
	for _, f := range m.Triangles {
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		if area := b.Sub(a).Cross(c.Sub(a)).Dot(eye); area > most {
			most, at = area, see(a.Add(b).Add(c).Scale(1.0/3))
		}
	}
	return at
}

func (t *templates) flatPiece(i int, part model.Part) {
	piece := t.r.Division.Pieces[i]
	m := inOwnFrame(t.r, i)
	box := drawn(m, fromAbove)
	thick := unit.Length(m.Bounds().Size()[2])
	s := drawing.New(box.W+2*wrapRim, box.H+2*wrapRim)
	look := onPaper(fromAbove, box, 1, drawing.Pt(wrapRim, wrapRim))
	s.Path(contour(m, look), drawing.Lined(drawing.Outline))
	name, copies, file := piece.Name, "", piece.ID.Part
	if n := t.alikes(part.Declared, piece.ID); part.Declared != part.ID && n > 1 {
		name, copies, file = part.Declared, fmt.Sprintf(", %d alike", n), part.Declared
	}
	if piece.ID.From != model.Foot || piece.ID.To != model.Nose {
		file += "." + piece.ID.From
	}
	s.Text(drawing.Text{At: largestFace(m, look), H: drawing.Middle, V: drawing.Centre, String: name, Size: drawing.SizeSmall, Halo: 0.6})
	t.add(Template{
		Name: "flat-" + file, Title: fmt.Sprintf("%s, %s thick%s", name, t.u.Fine(thick), copies),
		Use: "check or cut the outline", Where: "on the piece, or on sheet stock", Lay: "Lay it on the piece, or on sheet stock to cut one from", Figure: s,
	})
}

// stand is the base of the stand, and its post.
func (t *templates) stand() {
	st := t.r.Design.Stand
	if st == nil || st.Across <= 0 {
		return
	}
	mm, by := t.across(false, st.Post.OD, st.Post.ODMost)
	t.sawWrap(sawing{"post", st.Post.Name, mm, by})
	half, hole := float64(st.Across)/2, mm/2
	quarter := 2*half > wholeBase
	s := drawing.New(2*half+2*wrapRim, 2*half+2*wrapRim)
	middle := drawing.Pt(half+wrapRim, half+wrapRim)
	if quarter {
		s = drawing.New(half+2*wrapRim+baseOver, half+2*wrapRim+baseOver)
		middle = drawing.Pt(wrapRim+baseOver, half+wrapRim)
	}
	sweep := 360.0
	if quarter {
		sweep = 90
	}
	circle := func(r float64) *drawing.Path {
		p := (&drawing.Path{}).Arc(middle, r, -90, sweep)
		if !quarter {
			p.Close()
		}
		return p
	}
	switch {
	case !st.Square:
		s.Path(circle(half), drawing.Lined(drawing.Outline))
	case quarter:
		s.Path(drawing.Polyline(middle.Add(drawing.Pt(0, -half)), middle.Add(drawing.Pt(half, -half)), middle.Add(drawing.Pt(half, 0))), drawing.Lined(drawing.Outline))
	default:
		s.Rect(drawing.Rect{X: middle.X - half, Y: middle.Y - half, W: 2 * half, H: 2 * half}, drawing.Lined(drawing.Outline))
	}
	s.Path(circle(hole), drawing.Lined(drawing.Outline))
	over := math.Min(baseOver, half)
	reach := half
	s.Line(middle.Add(drawing.Pt(-over, 0)), middle.Add(drawing.Pt(reach, 0)), drawing.CentreLine)
	s.Line(middle.Add(drawing.Pt(0, over)), middle.Add(drawing.Pt(0, -reach)), drawing.CentreLine)
	lay := "Cut it out and scribe round it; the post stands on the inner circle"
	if quarter {
		lay = "A quarter: turn it four times about its middle, chain line on chain line; the post stands on the inner circle"
	}
	words := fmt.Sprintf("base: post ⌀ %.2f mm", mm)
	at := middle.Add(drawing.Pt(hole*0.72+4, -hole*0.72-4))
	s.Text(drawing.Text{At: at, String: words, Size: drawing.SizeSmall, Halo: 0.6})
	shape := "round"
	if st.Square {
		shape = "square"
	}
	t.add(Template{
		Name: "base", Title: fmt.Sprintf("base, %s, %s across", shape, t.u.Whole(st.Across)),
		Use: "mark the base and its post", Where: "on the base", Lay: lay, Figure: s,
	})
}

const (
	wholeBase = 160.0 // a base wider than this, mm, is drawn as a quarter
	baseOver  = 6.0   // that its chain lines run past the middle
)
