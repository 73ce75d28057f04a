package book

import (
	"scalewright/drawing"
	"scalewright/lane"
)

const pageExploded = "exploded"

// exploded is the build pulled apart: which piece goes where, seen at one look
// before the order of assembly says when.
func (b *sheets) exploded() {
	if len(b.r.Carved) < 2 || len(b.r.Carved) < len(b.r.Prints) {
		return
	}
	p := b.add(pageExploded, "Pulled apart", !lane.Stands(b.r))
	p.slim = true
	p.body.H = p.area.Y + p.area.H - b.block(p, 0).Height() - rim - p.body.Y
	p.scale = "none"
	y := p.text(p.body.X, p.body.Y, p.body.W, drawing.SizeHead, bold("Pulled apart")) + 1
	y = p.text(p.body.X, y, p.body.W, drawing.SizeText, plain(
		"Every piece before it goes together, drawn off the way it came; chain lines lead back. Numbers are the items of the parts list. The order is on the sheet Assembly.")) + 2
	room := drawing.Rect{X: p.body.X, Y: y, W: p.body.W, H: p.body.Y + p.body.H - y}
	scene := lane.Exploded(b.r, room.W, room.H)
	if scene == nil {
		return
	}
	p.scene.Place(scene, drawing.Pt(room.X, room.Y+(room.H-scene.Height)/2), "")
}
