package server

import (
	"context"

	"scalewright/unit"
)

type editIn struct {
	OnBuild
	Body Edit
}

func edit(ctx context.Context, d *desk, in editIn) (Edited, error) { return d.edit(ctx, in.Body) }

func try(ctx context.Context, d *desk, in editIn) (Trial, error) { return d.try(ctx, in.Body) }

type walkIn struct {
	OnBuild
	Body Walk
}

func undo(ctx context.Context, d *desk, in walkIn) (Edited, error) { return d.undo(ctx, in.Body) }

func redo(ctx context.Context, d *desk, in walkIn) (Edited, error) { return d.redo(ctx, in.Body) }

type seenIn struct {
	OnBuild
	InUnits
}

func findings(ctx context.Context, d *desk, in seenIn) (Findings, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return Findings{}, err
	}
	return Findings{asOf, findingsOf(s, s.result.Findings, in.system())}, nil
}

// declaration is what the files say now, whatever was derived.
func declaration(_ context.Context, d *desk, in seenIn) (Declaration, error) {
	d.used()
	d.mu.Lock()
	loaded := d.loaded
	asOf := AsOf{Version: d.version, Revision: loaded.Revision, State: d.state}
	ratio := 0.0
	if d.shown != nil {
		ratio = d.shown.result.Enlarge.Ratio
	}
	d.mu.Unlock()
	out := Declaration{AsOf: asOf, Values: []Declared{}}
	for _, v := range loaded.Values() {
		one := Declared{At: Place{v.At.File, v.At.Path}, Text: v.Text, Line: v.Line}
		if v.IsLength {
			one.Owner = ownerOf(v.Length)
			if full := fullSize(v.Length, ratio); full != 0 {
				one.Full = in.system().Tenth(full)
			}
		}
		out.Values = append(out.Values, one)
	}
	return out, nil
}

func ownerOf(d unit.Dim) string {
	if d.Owner == unit.OfReference {
		return "reference"
	}
	return "shop"
}

// fullSize is what a declared length comes to; 0 where the ratio is not known.
func fullSize(d unit.Dim, ratio float64) unit.Length {
	if d.Owner == unit.OfReference {
		return unit.Length(d.MM * ratio)
	}
	return unit.Length(d.MM)
}
