package book

import (
	"scalewright/job"
	"scalewright/model"
)

// boughtJSON is a row of the list of pins, screws and magnets.
type boughtJSON struct {
	For    string     `json:"for"` // mount or opening
	Stock  string     `json:"stock"`
	Name   string     `json:"name"`
	Length figure     `json:"length_mm,omitempty"`
	Count  int        `json:"count"`
	Holes  []holeJSON `json:"holes"`
}

// holeJSON is a printed hole: what to print, and the diameter that it must come
// out at.
type holeJSON struct {
	Piece string        `json:"piece"`
	For   model.HoleFor `json:"for"`
	Print figure        `json:"print_mm"`
	Wants figure        `json:"wants_mm"`
	Bind  figure        `json:"bind"` // chance
}

// holdJSON is where a pin, a screw or a pair of magnets lies in the build.
type holdJSON struct {
	ID      string          `json:"id"`
	Mount   string          `json:"mount"`
	Kind    model.JointKind `json:"kind"`
	Stock   string          `json:"stock"`
	Guest   string          `json:"guest"`
	Host    string          `json:"host"`
	At      [3]figure       `json:"at_mm"` // on the host's surface
	Out     [3]figure       `json:"out"`
	InHost  figure          `json:"in_host_mm"`
	InGuest figure          `json:"in_guest_mm"`
	Pad     figure          `json:"pad_mm"` // by which the host's wall is thicker inside
}

func reportBought(r job.Result) []boughtJSON {
	return each(r.Division.Bought(), func(b model.Bought) boughtJSON {
		out := boughtJSON{For: b.Of, Stock: b.Stock.ID, Name: b.Stock.Name, Length: figure(b.Long), Count: b.Count, Holes: []holeJSON{}}
		for _, h := range r.Fits.Holes {
			if h.Of == b.Of {
				out.Holes = append(out.Holes, holeJSON{h.Piece, h.For, figure(h.Size.Nominal), figure(h.Wants), figure(h.Bind)})
			}
		}
		return out
	})
}

func reportHold(h model.Fastening) holdJSON {
	out := holdJSON{
		ID: h.ID, Mount: h.Mount, Kind: h.Kind, Stock: h.Stock.ID, Guest: h.Guest.String(), Host: h.Host.String(),
		InHost: figure(h.InHost), InGuest: figure(h.InGuest), Pad: figure(h.Pad),
	}
	for k := range 3 {
		out.At[k], out.Out[k] = figure(h.At[k]), figure(h.Out[k])
	}
	return out
}
