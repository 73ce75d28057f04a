package fastening

import (
	"math"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// What must be left of a piece: common practice, a guess until logged.
const (
	Edge      = 1.6 * unit.Millimetre // round a hole that something is pressed or glued into: four lines
	HeadEdge  = 0.8 * unit.Millimetre // round a head: two lines
	Floor     = 0.8 * unit.Millimetre // under a blind hole
	UnderHead = 0.8 * unit.Millimetre // of the piece that a head holds down
	Sunk      = 0.1 * unit.Millimetre // of a head or a magnet below the face
	Spare     = 0.5 * unit.Millimetre // a hole is so much deeper than what goes in
	Deepest   = 60 * unit.Millimetre  // that a head may lie under the face and still be reached and seen past

	pinShare    = 1.5 // diameters of a pin in each piece
	threadShare = 2.0 // diameters of thread in plastic
	threadLeast = 1.5
)

// Depths are how far a fastener reaches from where its two pieces meet.
type Depths struct {
	Long    unit.Length // of the pin or screw
	InHost  unit.Length // of the hole
	InGuest unit.Length // of the hole; of a screw, where its head's face lies
	// NeedsHigh is what the guest must stand over the host.
	NeedsHigh unit.Length
}

// Pin is half in each piece; false where none of its lengths is short enough.
func Pin(f stock.Fastener) (Depths, bool) {
	long, ok := f.Longest(2 * pinShare * f.Across)
	deep := long/2 + Spare
	return Depths{Long: long, InHost: deep, InGuest: deep, NeedsHigh: deep + Floor}, ok
}

// Screw goes through a guest that stands so high over its host, under the whole of
// the head, and holds in the host. Its head lies in the guest's face, or deeper
// where no length reaches; false where it would lie too deep or has nothing to hold
// down.
func Screw(f stock.Fastener, high unit.Length) (Depths, bool) {
	face := high - Sunk
	d := Depths{NeedsHigh: f.Cone() + UnderHead + Sunk}
	for _, l := range f.Lengths {
		d.Long = l
		if l >= face+threadLeast*f.Across {
			break
		}
	}
	if d.Long < face+threadLeast*f.Across {
		face = d.Long - threadShare*f.Across
	}
	d.InGuest, d.InHost = face, d.Long-face+Spare
	return d, high >= d.NeedsHigh && face >= f.Cone()+UnderHead && high-face <= Deepest
}

// Held is Screw where what holds is no thicker than so much: the length that
// reaches through it or nearly so, with at least a diameter of thread.
func Held(f stock.Fastener, face, thick unit.Length) (unit.Length, bool) {
	long, ok := f.Longest(face + thick + f.Across)
	return long, ok && long >= face+min(thick, f.Across)
}

// Magnet lies just under both faces. Where the host is round, low and high are the
// least and the most that its surface reaches along the magnets' line within their
// width, about where the line leaves it.
func Magnet(f stock.Fastener, low, high unit.Length) (Depths, bool) {
	deep := f.High + (f.Most - f.Across) + Sunk
	return Depths{InHost: deep - low, InGuest: deep + high, NeedsHigh: deep + high + Floor}, high-low+2*Sunk <= apart
}

// apart is the widest gap between two magnets that still hold each other well.
const apart = 1 * unit.Millimetre

// Needs is what a fastener needs on every side of its line in the guest.
func Needs(f stock.Fastener) unit.Length {
	if f.Use == stock.Screw {
		return f.Head()/2 + HeadEdge
	}
	return f.Most/2 + Edge
}

// Under is the radius at which a flat disc square to the radius, so much across,
// lies under a turned surface all round.
func Under(outer []model.Point, station, across float64) float64 {
	low := model.LowestBetween(outer, station-across/2, station+across/2)
	return math.Sqrt(math.Max(0, low*low-across*across/4))
}
