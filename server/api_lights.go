package server

import (
	"context"
	"encoding/hex"
	"fmt"

	"scalewright/craft/firmware"
	"scalewright/job"
	"scalewright/lane"
)

func lights(ctx context.Context, d *desk, in seenIn) (LightSheet, error) {
	s, asOf, err := d.see(ctx, job.Lit)
	if err != nil {
		return LightSheet{}, err
	}
	r := s.result
	e := r.Effects
	out := LightSheet{AsOf: asOf, Supply: e.Supply, Says: "nothing draws current", Shows: []Show{}, Pins: []Pin{}, Wires: []Wire{}, Road: []RoadHours{}}
	if e.Most > 0 {
		out.Says = fmt.Sprintf("%.0f mA at most of the %.0f mA that it gives", e.Most, e.Gives)
	}
	for _, w := range e.Wires {
		long := in.system().Whole(w.Length)
		if w.Guessed {
			long = "about " + long
		}
		out.Wires = append(out.Wires, Wire{w.Wire.ID, w.FromPin, w.ToPin, long, fmt.Sprintf("AWG %d", w.Gauge), hundredth(w.Amps), hundredth(w.Drop), w.Note})
		out.Pins = append(out.Pins, Pin{w.FromPin, w.Wire.ID, w.ToPin})
	}
	for _, b := range e.Road {
		out.Road = append(out.Road, RoadHours{b.Component, hundredth(b.Hours)})
	}
	for _, q := range lane.Sequences(r) {
		one := Show{
			ID: q.Show.ID, Sound: q.Show.Sound, Pattern: string(q.Show.Pattern), Seconds: q.Seconds, Endless: q.Endless,
			Step: q.Step, Lamps: e.Program.Pixels, Columns: []string{}, Says: q.Ticks,
		}
		if b := q.Show.Button; b >= 0 && b < len(e.Program.Buttons) {
			one.Button = e.Program.Buttons[b]
		}
		for _, column := range q.Columns {
			var all []byte
			for _, c := range column {
				all = append(all, c[:]...)
			}
			one.Columns = append(one.Columns, hex.EncodeToString(all))
		}
		out.Shows = append(out.Shows, one)
	}
	if len(e.Program.Shows) > 0 {
		out.Program = firmware.Source(r.Name, e.Program)
	}
	return out, nil
}
