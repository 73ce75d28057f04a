package model

import (
	"fmt"
	"slices"

	"scalewright/stock"
	"scalewright/unit"
)

// Bought is a fastener and how many of it a joint or a panel takes.
type Bought struct {
	Of    string // mount or opening
	Stock stock.Fastener
	Long  unit.Length // of a pin or screw
	Count int
}

// String is what to ask for in a shop: "M3 x 6" behind what it is.
func (b Bought) String() string {
	if b.Long == 0 {
		return b.Stock.Name
	}
	return fmt.Sprintf("%s x %g", b.Stock.Name, float64(b.Long))
}

// Bought are the fasteners of mounts, then of panels, a row for each length.
func (d Division) Bought() []Bought {
	var out []Bought
	add := func(of string, f stock.Fastener, long unit.Length, n int) {
		k := slices.IndexFunc(out, func(b Bought) bool { return b.Of == of && b.Stock.ID == f.ID && b.Long == long })
		if k < 0 {
			out = append(out, Bought{Of: of, Stock: f, Long: long, Count: n})
			return
		}
		out[k].Count += n
	}
	for _, h := range d.Holds {
		n := 1
		if h.Kind == Magnet {
			n = 2 // a pair
		}
		add(h.Mount, h.Stock, h.Long, n)
	}
	for _, w := range d.Windows {
		if w.Panel != (PieceID{}) {
			add(w.Opening.ID, w.Screw, w.Long, PanelScrews)
		}
	}
	return out
}

// BoughtFor are the fasteners of one mount or opening.
func (d Division) BoughtFor(of string) []Bought {
	return slices.DeleteFunc(d.Bought(), func(b Bought) bool { return b.Of != of })
}
