package enlarge

import (
	"context"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is what the ratio depends on.
type Input struct {
	Reference model.DeclaredReference
	Enlarge   model.DeclaredEnlarge
	Trace     model.Trace
}

// Result is the ratio and what it makes of the reference.
type Result struct {
	Ratio     float64
	Reference unit.Value // length of the reference, mm of the reference, readings taken in
	Length    unit.Value // overall at full size, mm
}

// A reading and the photograph may lie so many of their joint doubts apart:
// past three, one in 370 honest pairs does.
const mostDoubts = 3

// Run sets the ratio.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	var found finding.List
	seen := in.Trace.Length
	reference := seen
	read := in.Reference.Length
	switch {
	case seen.X == 0 && read.Written(): // no outline: the reading is all there is
		reference = unit.Estimate(read.MM, doubt(read))
	case read.Written():
		u := doubt(read)
		apart := math.Abs(read.MM - seen.X)
		joint := math.Hypot(u, seen.U)
		if apart > mostDoubts*joint {
			found.Add(finding.New("reading-disagrees", in.Reference.At.Key("length"), finding.Args{
				"read": finding.Fine(read.MM), "seen": finding.Fine(seen.X),
				"apart": finding.Number(apart / joint),
			}))
		} else {
			reference = weigh(seen, unit.Estimate(read.MM, u))
		}
	}
	ratio := in.Enlarge.Ratio
	if ratio == 0 && reference.X == 0 {
		found.Add(finding.New("nothing-to-enlarge", in.Enlarge.At.Key("length"), nil))
		return Result{}, found, nil
	}
	if ratio == 0 {
		ratio = in.Enlarge.Length.MM / reference.X
	}
	return Result{Ratio: ratio, Reference: reference, Length: reference.Scale(ratio)}, found, nil
}

// The standard uncertainty of a length read by caliper over rounded ends, where
// none is written, mm: common practice, a guess until you write your own.
const caliper = 0.05

func doubt(read unit.Dim) float64 {
	if read.U == 0 {
		return caliper
	}
	return read.U
}

// weigh is the mean of two estimates, each by the inverse square of its doubt.
func weigh(a, b unit.Value) unit.Value {
	if a.U == 0 {
		return a
	}
	wa, wb := 1/(a.U*a.U), 1/(b.U*b.U)
	return a.Scale(wa / (wa + wb)).Add(b.Scale(wb / (wa + wb)))
}
