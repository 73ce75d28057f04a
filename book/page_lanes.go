package book

import (
	"scalewright/drawing"
	"scalewright/lane"
)

const pageLanes = "lanes"

// lanesFirst are opened before the others, where the sheet has the room.
var lanesFirst = []string{"elevation", "pieces", "walls", "weight", "fits", "finish", "core", "error", "lights"}

// A scale so much smaller than the width asks for is taken where it lets the first
// so many lanes be open.
const (
	smaller   = 1.3
	openFirst = 3
	mostTries = 30 // smaller scales are tried; past them nothing gets lower
)

// allLanes is every lane under one scale of stations on one sheet, to be read
// straight down: as many open as the sheet has room for.
func (b *sheets) allLanes() {
	if lane.Whole(b.r).Length() <= 0 || len(b.r.Prints) == 0 {
		return
	}
	p := b.add(pageLanes, "The whole on one sheet", true)
	p.slim = true
	const heads, words, up = 34.0, 7.0, 5.0
	bottom := p.area.Y + p.area.H - b.block(p, 0).Height()
	room := drawing.Rect{X: p.body.X, Y: p.body.Y - up, W: p.body.W}
	room.H = bottom - room.Y - words
	least := lane.Reduction(float64(lane.Whole(b.r).Length()) / (room.W - heads - 2*lane.Pad))
	n := least
	scene, open := b.openLanes(n, heads, room.H)
	for try, k := n, 0; k < mostTries; k++ {
		try = lane.Reduction(try * 1.001)
		if scene.Height <= room.H && (open >= openFirst || try > smaller*least) {
			break
		}
		if s, more := b.openLanes(try, heads, room.H); more > open || scene.Height > room.H {
			n, scene, open = try, s, more
		}
	}
	p.scale = lane.ScaleText(n)
	p.scene.Place(scene, drawing.Pt(room.X+(room.W-scene.Width)/2, room.Y), "all-")
	p.text(p.body.X, room.Y+scene.Height+1, p.body.W, drawing.SizeSmall, faint(
		"Every lane shows what lies at the same station: lay a rule upright across them. A folded lane is its summary and one remark."))
}

// openLanes opens lanes one after the other as long as the sheet is no higher than
// the room, and says how many are open; the elevation is in any case.
func (b *sheets) openLanes(n, heads, room float64) (*drawing.Scene, int) {
	o := lane.SheetOptions{View: b.whole(n), Head: heads, Open: lanesFirst[:1]}
	best := lane.Sheet(b.lanes, o)
	for _, id := range lanesFirst[1:] {
		try := o
		try.Open = append(append([]string{}, o.Open...), id)
		if s := lane.Sheet(b.lanes, try); s.Height <= room {
			o, best = try, s
		}
	}
	return best, len(o.Open)
}
