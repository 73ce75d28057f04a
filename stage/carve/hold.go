package carve

import (
	"math"

	"scalewright/craft/joinery"
	"scalewright/model"
	"scalewright/solid"
)

// hold gives a piece its side of a fastening: the host a pad inside its wall where
// that is too thin, and its hole; the guest its hole, and a way in for a screw's
// head.
func (f *feature) hold(h Hold) (add, cut []solid.Mesh, err error) {
	v := h.Hold
	at, out := solid.Vec(v.At), solid.Vec(v.Out)
	one := func(m solid.Mesh, err error) ([]solid.Mesh, []solid.Mesh, error) {
		return add, append(cut, m), err
	}
	if v.Guest == f.Piece.ID {
		deep := float64(v.InGuest)
		switch v.Kind {
		case model.Dowelled:
			return one(joinery.Rod(at, out, printed(h.Holes, model.ForPin), -footSpare, deep))
		case model.Magnet:
			return one(joinery.Rod(at, out, printed(h.Holes, model.ForMagnet), -footSpare, deep))
		case model.Screwed:
			far := f.whole.Bounds().Size().Length()
			shank, err := joinery.Rod(at, out, printed(h.Holes, model.ForShank), -footSpare, far)
			if err != nil {
				return nil, nil, err
			}
			cut = append(cut, shank)
			return one(joinery.Sink(at, out, printed(h.Holes, model.ForHead), deep, far))
		}
		panic("carve: internal error: nothing holds by " + string(v.Kind))
	}
	if v.Pad > 0 {
		half := float64(v.Half) / math.Hypot(v.At[0], v.At[1])
		pad, err := f.pad(v.Clocking, half, v.PadSpan, float64(v.Pad), !v.Lug || f.slopesAway(v))
		if err != nil {
			return nil, nil, err
		}
		add = append(add, pad)
	}
	use := map[model.JointKind]model.HoleFor{model.Dowelled: model.ForPin, model.Screwed: model.ForThread, model.Magnet: model.ForMagnet}[v.Kind]
	return one(joinery.Rod(at, out, printed(h.Holes, use), -float64(v.InHost), footSpare))
}

// slopesAway reports whether a lug's underside in print lies on the side that its
// guest does not; else it is printed flat, on support.
func (f *feature) slopesAway(v model.Fastening) bool {
	return (f.Piece.Direction == model.NoseDown) == (v.Out[2] < 0)
}

// footSpare is how far past the face between guest and host a hole's cutter runs,
// mm: more than the face rises or falls under the widest.
const footSpare = 6.0
