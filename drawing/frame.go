package drawing

import (
	"math"
	"strconv"
)

// Format is a trimmed sheet of paper, mm.
type Format struct {
	Width, Height float64
	// OneSided keeps the letters and numbers of the zones to one side each, as
	// is the habit for A4; top and right, away from the filing holes, are ours.
	OneSided bool
}

// The formats of the book (ISO 216).
var (
	A3Landscape = Format{420, 297, false}
	A4Portrait  = Format{210, 297, true}
	A4Landscape = Format{297, 210, true}
)

// Letter is US letter paper, ANSI/ASME Y14.1 A: 8.5 by 11 in.
var Letter = Format{215.9, 279.4, true}

// Borders and zones after ISO 5457:1999: 20 mm to the left for filing, 10 mm
// elsewhere; fields of 50 mm from the centring marks, what is left over going
// to the corners; lines of 0.35 mm between fields, letters without I and O;
// centring marks of 0.7 mm. How far a mark enters the drawing is ours: 2 mm,
// so that it never meets the work.
const (
	borderLeft  = 20.0
	borderOther = 10.0
	zoneField   = 50.0
	zoneBand    = 5.0
	markInside  = 2.0
	zoneLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
)

// NewSheet returns a Scene of the format with its frame drawn, and the drawing
// space inside the frame.
func NewSheet(f Format) (*Scene, Rect) {
	s := New(f.Width, f.Height)
	area := Rect{borderLeft, borderOther, f.Width - borderLeft - borderOther, f.Height - 2*borderOther}
	s.Begin(Group{ID: "frame", Class: "frame"})
	defer s.End()
	// The band of letters and numbers has its outer edge 5 mm from the frame,
	// on the left too, where the filing margin lies beyond it.
	outer := Rect{zoneBand, zoneBand, f.Width - 2*zoneBand, f.Height - 2*zoneBand}
	s.Rect(outer, Lined(Fine))
	s.Rect(area, Lined(Object.Wide(FrameWidth)))
	s.zonesAcross(f, area)
	s.zonesDown(f, area)
	s.centringMarks(f, area)
	return s, area
}

// zoneEdges are the inner boundaries between the fields along a side of the
// frame from lo to hi, whose centring mark stands at mid.
func zoneEdges(lo, hi, mid float64) []float64 {
	n := int(math.Ceil((mid-lo)/zoneField)) - 1
	m := int(math.Ceil((hi-mid)/zoneField)) - 1
	var out []float64
	for i := -n; i <= m; i++ {
		out = append(out, mid+float64(i)*zoneField)
	}
	return out
}

func (s *Scene) zonesAcross(f Format, area Rect) {
	lo, hi := area.X, area.X+area.W
	edges := zoneEdges(lo, hi, f.Width/2)
	bands := [][2]float64{{area.Y - zoneBand, area.Y}}
	if !f.OneSided {
		bands = append(bands, [2]float64{area.Y + area.H, area.Y + area.H + zoneBand})
	}
	for _, b := range bands {
		from := lo
		for i, e := range append(edges, hi) {
			if e != hi {
				s.Line(Pt(e, b[0]), Pt(e, b[1]), Object)
			}
			s.zoneSign((from+e)/2, (b[0]+b[1])/2, strconv.Itoa(i+1))
			from = e
		}
	}
}

func (s *Scene) zonesDown(f Format, area Rect) {
	lo, hi := area.Y, area.Y+area.H
	edges := zoneEdges(lo, hi, f.Height/2)
	bands := [][2]float64{{area.X + area.W, area.X + area.W + zoneBand}}
	if !f.OneSided {
		bands = append(bands, [2]float64{area.X - zoneBand, area.X})
	}
	for _, b := range bands {
		from := lo
		for i, e := range append(edges, hi) {
			if e != hi {
				s.Line(Pt(b[0], e), Pt(b[1], e), Object)
			}
			s.zoneSign((b[0]+b[1])/2, (from+e)/2, zoneLetters[i:i+1])
			from = e
		}
	}
}

func (s *Scene) zoneSign(x, y float64, sign string) {
	s.Text(Text{At: Pt(x, y), String: sign, Size: SizeForCaps(2.5), H: Middle, V: Centre})
}

func (s *Scene) centringMarks(f Format, a Rect) {
	line := Object.Wide(FrameWidth)
	x, y := f.Width/2, f.Height/2
	s.Line(Pt(x, zoneBand), Pt(x, a.Y+markInside), line)
	s.Line(Pt(x, f.Height-zoneBand), Pt(x, a.Y+a.H-markInside), line)
	s.Line(Pt(zoneBand, y), Pt(a.X+markInside, y), line)
	s.Line(Pt(f.Width-zoneBand, y), Pt(a.X+a.W-markInside, y), line)
}
