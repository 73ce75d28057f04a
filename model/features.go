package model

import (
	"fmt"
	"math"
	"slices"
)

// Features are what a piece has beyond its turned shape, in words that can be held
// against those of another day: openings, tongues and slots, core rings' seats.
func (d Division) Features(p PieceID) []string {
	out := []string{}
	for _, w := range d.Windows {
		if w.Piece == p {
			o := w.Opening
			out = append(out, fmt.Sprintf("opening %s (%s) at %.1f mm, clocking %.1f°", o.ID, o.words(), float64(o.Station), o.Clocking*180/math.Pi))
		}
	}
	for _, t := range d.Tabs {
		what := ""
		switch p {
		case t.Host:
			what = "slot"
		case t.Guest:
			what = "tongue"
		default:
			continue
		}
		out = append(out, fmt.Sprintf("%s of %s from %.1f to %.1f mm, clocking %.1f°", what, t.Mount, float64(t.Span.From), float64(t.Span.To), t.Clocking*180/math.Pi))
	}
	for _, s := range d.Seats {
		if s.Host == p {
			out = append(out, fmt.Sprintf("seat of a core ring from %.1f to %.1f mm", float64(s.Span.From), float64(s.Span.To)))
		}
	}
	slices.Sort(out)
	return out
}

func (o Opening) words() string {
	if o.Across > 0 {
		return fmt.Sprintf("⌀ %.1f mm", float64(o.Across))
	}
	return fmt.Sprintf("%.1f by %.1f mm", float64(o.Wide), float64(o.High))
}
