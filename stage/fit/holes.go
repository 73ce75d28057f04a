package fit

import (
	"math"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// holes are the printed holes of pins, screws and magnets. What slides in gets the
// room of a glued fit; a screw's holes come out as their table asks.
func (w work) holes() []model.Hole {
	var out []model.Hole
	add := func(h model.Hole) {
		for _, other := range out {
			if other.Of == h.Of && other.Piece == h.Piece && other.For == h.For {
				return
			}
		}
		out = append(out, h)
	}
	for _, h := range w.Division.Holds {
		switch h.Kind {
		case model.Dowelled:
			add(w.slip(h.Mount, h.Guest, model.ForPin, h.Stock))
			add(w.slip(h.Mount, h.Host, model.ForPin, h.Stock))
		case model.Magnet:
			add(w.slip(h.Mount, h.Guest, model.ForMagnet, h.Stock))
			add(w.slip(h.Mount, h.Host, model.ForMagnet, h.Stock))
		case model.Screwed:
			w.screw(h.Mount, h.Guest, h.Host, h.Stock, add)
		}
	}
	for _, v := range w.Division.Windows {
		if v.Panel != (model.PieceID{}) {
			w.screw(v.Opening.ID, v.Panel, v.Piece, v.Screw, add)
		}
	}
	return out
}

// slip is the hole for a pin or a magnet: the least room of a glued fit and twice
// the doubt of what is printed.
func (w work) slip(of string, piece model.PieceID, use model.HoleFor, f stock.Fastener) model.Hole {
	takes := float64(f.Most)
	play := w.offset(piece, takes, true)
	asked := math.Ceil((takes+leastGlued+spare*play.U-play.X)*100) / 100
	h := model.Hole{
		Of: of, Piece: piece.String(), For: use, Stock: f.ID, Takes: f.Most,
		Wants: f.Most + leastGlued, Size: w.side(piece, asked, true),
	}
	h.Bind = below(takes, h.Size.Actual)
	return h
}

// screw are the holes of a screw: it passes through one piece, its head lies in
// that, and its thread holds in the other.
func (w work) screw(of string, passes, holds model.PieceID, f stock.Fastener, add func(model.Hole)) {
	for _, h := range []model.Hole{
		{Piece: passes.String(), For: model.ForShank, Wants: f.Passes, Size: w.wanted(passes, f.Passes)},
		{Piece: passes.String(), For: model.ForHead, Wants: f.Head(), Size: w.wanted(passes, f.Head())},
		{Piece: holds.String(), For: model.ForThread, Wants: f.Thread, Size: w.wanted(holds, f.Thread)},
	} {
		h.Of, h.Stock, h.Takes = of, f.ID, f.Across
		if h.For == model.ForHead {
			h.Takes = f.Head()
		}
		if h.For != model.ForThread {
			h.Bind = below(float64(h.Takes), h.Size.Actual)
		}
		add(h)
	}
}

// wanted is what to print of a hole so that it comes out at a diameter on the mean.
func (w work) wanted(piece model.PieceID, d unit.Length) model.Size {
	off := w.offset(piece, float64(d), true)
	return w.side(piece, math.Round((float64(d)-off.X)*100)/100, true)
}
