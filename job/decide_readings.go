package job

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/stage/readings"
	"scalewright/stage/truing"
)

// readings joins what a caliper says of the reference with its trace.
func (r *runner) readings(ctx context.Context) error {
	if len(r.out.Trace.Outline) == 0 {
		return nil
	}
	in := readings.Input{Trace: r.out.Trace, LengthRead: r.in.Declared.Reference.Length.Written()}
	for _, d := range r.in.Declared.Reference.Readings {
		in.Readings = append(in.Readings, reading(d))
	}
	r.trail = readingsStage.Key(in.Readings, in.LengthRead, r.trail)
	value, found, err := remember(ctx, r, readingsStage, r.trail, func(ctx context.Context) (readings.Result, finding.List, error) {
		return readings.Run(ctx, in)
	})
	r.out.Readings, r.out.Trace = value, value.Trace
	r.found.Add(found...)
	return err
}

func reading(d model.DeclaredReading) readings.Reading {
	if d.Length.Written() {
		return readings.Reading{
			At: d.At.Key("length"), Kind: readings.Length, X: d.Length.MM, U: d.Length.U, Text: d.Length.Text,
			From: d.From.MM, To: d.To.MM,
		}
	}
	return readings.Reading{
		At: d.At.Key("diameter"), Kind: readings.Diameter, X: d.Diameter.MM, U: d.Diameter.U, Text: d.Diameter.Text,
		Station: d.Station.MM,
	}
}

// Measurement is what one photograph and readings say without a build.
type Measurement struct {
	measure.Result
	Readings readings.Result
	Trued    truing.Result // with nothing declared: what might be
}

// Measure measures one photograph and joins what was read by caliper.
func Measure(ctx context.Context, in measure.Input, read []readings.Reading) (Measurement, finding.List, error) {
	m, found, err := measure.Run(ctx, in)
	if err != nil || m.Lost {
		return Measurement{Result: m}, found, err
	}
	joined, more, err := readings.Run(ctx, readings.Input{Trace: m.Trace, Readings: read, LengthRead: in.Length.X > 0})
	found.Add(more...)
	if err != nil {
		return Measurement{Result: m}, found, err
	}
	if joined.Count > 0 {
		m = m.With(joined.Trace)
	}
	might, more, err := truing.Run(ctx, truing.Input{Trace: m.Trace, Ratio: 1})
	found.Add(more...)
	return Measurement{m, joined, might}, found, err
}
