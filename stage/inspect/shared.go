package inspect

import (
	"context"
	"fmt"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// What two solids may share, mm³: faces that lie on each other, to the grid of their
// coordinates and the flats of their circles.
const touching = 1.0

// shared says which parts run into each other, and by how much.
func (in Input) shared(ctx context.Context) (finding.List, error) {
	var found finding.List
	boxes := make([]solid.Bounds, len(in.Carved))
	for i, c := range in.Carved {
		if !c.Solid.Empty() {
			boxes[i] = c.Solid.Bounds()
		}
	}
	for i, a := range in.Parts {
		for _, b := range in.Parts[i+1:] {
			if a.OnBody() && b.OnBody() || in.mounted(a.ID, b.ID) {
				continue
			}
			sum := 0.0
			at := 0.0
			for k, c := range in.Carved {
				for l, d := range in.Carved {
					if c.Piece.Part != a.ID || d.Piece.Part != b.ID || c.Solid.Empty() || d.Solid.Empty() || !meet(boxes[k], boxes[l]) {
						continue
					}
					both, err := solid.Kernel{}.Intersect(ctx, c.Solid, d.Solid)
					if err != nil {
						return found, fmt.Errorf("%s and %s: %w", c.Piece, d.Piece, err)
					}
					if v := both.Volume(); v > touching {
						if sum == 0 {
							at = both.Centroid()[2]
						}
						sum += v
					}
				}
			}
			if sum > 0 {
				found.Add(in.runInto(a, b, sum, at))
			}
		}
	}
	return found, nil
}

// mounted reports whether one of two parts is the other's guest: carve cuts it to
// its host.
func (in Input) mounted(a, b string) bool {
	for _, m := range in.Mounts {
		if m.Guest == a && m.Host == b || m.Guest == b && m.Host == a {
			return true
		}
	}
	return false
}

// meet reports whether two boxes have room in common.
func meet(a, b solid.Bounds) bool {
	for k := range 3 {
		if a.Max[k] <= b.Min[k] || b.Max[k] <= a.Min[k] {
			return false
		}
	}
	return true
}

// runInto names the part that is no stretch of the body first: it is the one to
// move.
func (in Input) runInto(a, b model.Part, volume, at float64) finding.Finding {
	if a.OnBody() {
		a, b = b, a
	}
	return finding.New("parts-share-room", a.At, finding.Args{
		"other": finding.Name(b.ID), "much": finding.Number(math.Round(volume)),
	}).About(a.ID).AtStation(unit.Length(at))
}
