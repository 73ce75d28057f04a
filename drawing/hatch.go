package drawing

import (
	"math"
	"slices"
)

// Hatch says how cut material is hatched. The zero Hatch is the usual one:
// 45 degrees rising to the right, at [HatchPitch].
//
// Lines stand on a grid fixed to the paper, not to the region, so that two
// regions of one part are hatched through; a neighbouring part is told apart
// by Falling, by another Pitch or by Shift.
type Hatch struct {
	Pitch   float64 // mm between lines; 0 is HatchPitch, least minHatchPitch
	Falling bool    // 45 degrees the other way
	Shift   float64 // mm across the lines
	Stroke  Stroke  // zero is Fine
}

// minHatchPitch keeps lines apart by more than twice their width (ISO 128-3
// asks that hatching be told from a solid) and bounds the number of lines.
const minHatchPitch = 0.4

// Segment is a straight line from A to B.
type Segment struct{ A, B Point }

// HatchLines returns the hatch of the region as real segments, in order from
// the upper left, so that PDF and SVG draw the same lines. Contours count by
// the even-odd rule: one inside another is a hole.
func HatchLines(region *Path, h Hatch) []Segment {
	pitch := h.Pitch
	if pitch == 0 {
		pitch = HatchPitch
	}
	pitch = max(pitch, minHatchPitch)
	// Turn the paper so that hatch lines lie level: v across them, u along.
	// Rising lines go up to the right (y down): along (1,-1), across (1,1).
	along := Point{math.Sqrt2 / 2, -math.Sqrt2 / 2}
	if h.Falling {
		along.Y = -along.Y
	}
	across := Point{-along.Y, along.X}
	turned := region.contours()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range turned {
		for i, p := range c {
			c[i] = Point{dot(p, along), dot(p, across)}
			lo, hi = min(lo, c[i].Y), max(hi, c[i].Y)
		}
	}
	if !(hi-lo <= 2*maxCoordinate) {
		return nil
	}
	var out []Segment
	first := math.Ceil((lo - h.Shift) / pitch)
	for k := first; float64(k*pitch)+h.Shift < hi; k++ {
		v := float64(k*pitch) + h.Shift
		us := crossings(turned, v)
		for i := 0; i+1 < len(us); i += 2 {
			if us[i+1]-us[i] < minHatchLength {
				continue
			}
			a := along.Mul(us[i]).Add(across.Mul(v))
			b := along.Mul(us[i+1]).Add(across.Mul(v))
			out = append(out, Segment{a, b})
		}
	}
	return out
}

// minHatchLength drops specks shorter than a tenth of a fine line's width.
const minHatchLength = FineWidth / 10

func dot(p, q Point) float64 { return float64(p.X*q.X) + float64(p.Y*q.Y) }

// crossings are the places where the level line v meets the contours, in
// order. An edge owns its upper end and not its lower (half-open), so that a
// corner on the line counts once where the contour passes through it and twice
// or never where it turns back: the number is always even.
func crossings(contours [][]Point, v float64) []float64 {
	var us []float64
	for _, c := range contours {
		a := c[len(c)-1]
		for _, b := range c {
			if (a.Y <= v) != (b.Y <= v) {
				us = append(us, a.X+float64((b.X-a.X)*((v-a.Y)/(b.Y-a.Y))))
			}
			a = b
		}
	}
	slices.Sort(us)
	return us
}

// Hatch hatches the region. It doesn't draw the region's edge.
func (s *Scene) Hatch(region *Path, h Hatch) {
	if h.Stroke.Colour == None {
		h.Stroke.Colour = Ink
	}
	if h.Stroke.Width == 0 {
		h.Stroke.Width = FineWidth
	}
	p := &Path{}
	for _, l := range HatchLines(region, h) {
		p.Move(l.A).Line(l.B)
	}
	if len(p.segs) > 0 {
		s.Path(p, Lined(h.Stroke))
	}
}
