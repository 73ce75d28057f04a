package main

import (
	"math"
	"slices"
	"strings"

	"scalewright/finding"
	"scalewright/stage/measure"
)

// score is what a result is worth; a figure that there is no answer for is NaN.
type score struct {
	Name  string
	Traps []string
	Codes []string // of the findings

	Found, Pitch           float64 // 1 yes, 0 no
	Crossings, Mat         float64 // rms: px, mm
	IoU, Edge50, Edge95    float64
	Profile, Silent        float64 // 1 yes, 0 no
	RMS, P95, Worst        float64 // of the radius, mm
	Length, Allowed        float64 // off, and what may be, mm
	Height, Slope          float64 // of the axis: mm, degrees
	CornerS, CornerR       float64 // rms, mm
	Kinds, Spurious, Radii float64 // share %, count, worst share %
	Inside, TwoU           float64 // %, mm
	Seconds, Memory        float64 // s, MiB
}

// silentShare is the length's error past which a result without a finding is a
// silent fault.
const silentShare = 0.01

func scoreOf(s *sample, in measure.Input, r measure.Result, list finding.List) score {
	byMarks := len(in.Marks.Marks) > 0 // then the pitch was told
	no := math.NaN()
	out := score{
		Name: s.name, Traps: s.traps, Found: no, Pitch: no, Crossings: no, Mat: no, IoU: no, Edge50: no, Edge95: no,
		RMS: no, P95: no, Worst: no, Length: no, Height: no, Slope: no, CornerS: no, CornerR: no,
		Kinds: no, Spurious: no, Radii: no, Inside: no, TwoU: no, Seconds: no, Memory: no,
		Allowed: max(0.3, 0.0015*s.truth.Object.Length),
	}
	warned, stepSaid := false, false
	for _, f := range list {
		out.Codes = append(out.Codes, string(f.Code))
		warned = warned || f.Severity > finding.Note
		stepSaid = stepSaid || strings.HasPrefix(string(f.Code), "grid-")
	}
	if !byMarks {
		// Where the picture does not tell the step, to ask for it is the right answer.
		if asked := slices.Contains(out.Codes, "grid-step-unknown"); !asked || s.stepTold() {
			out.Found = yes(r.Grid.Found)
		}
		right := math.Abs(r.Grid.PitchMM/s.truth.Mat.Pitch-1) < 0.005
		if right || r.Grid.Found || s.stepTold() { // else nobody could say it
			out.Pitch = yes(right)
		}
	}
	out.Crossings, out.Mat = s.scoreMat(r)
	if !s.guessable() {
		out.Mat = no // its scale cannot be told
	}
	out.IoU, out.Edge50, out.Edge95 = s.scoreEdge(r)
	out.Profile = yes(!r.Lost)
	// A wrong step is said by a finding of the grid only: that the object was lost
	// besides is no warning.
	out.Silent = yes(out.Pitch == 0 && !stepSaid)
	if r.Lost || len(r.Profile) == 0 {
		return out
	}
	if !s.guessable() {
		return out // nor can all that hangs on it
	}
	r = s.turned(r)
	out.Length = math.Abs(r.Length.Value - s.truth.Object.Length)
	out.Silent = yes(out.Silent == 1 || !warned && out.Length > silentShare*s.truth.Object.Length)
	out.scoreRadius(s, r)
	if len(s.truth.Object.Fins) == 0 {
		a, b := r.Axis.StartMM-s.truth.Object.Start, r.Axis.EndMM-s.truth.Object.End
		out.Height = math.Abs(a+b) / 2
		out.Slope = math.Abs(math.Asin(min(1, math.Abs(a-b)/s.truth.Object.Length))) * 180 / math.Pi
	}
	out.scoreOutline(s, r)
	return out
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// turned is the result counted from the truth's datum end: where the body lies
// nearly upright in the picture, left and right are close to a toss.
func (s *sample) turned(r measure.Result) measure.Result {
	other := r
	other.Axis = measure.Axis{StartMM: r.Axis.EndMM, EndMM: r.Axis.StartMM}
	other.Profile = slices.Clone(r.Profile)
	slices.Reverse(other.Profile)
	for i := range other.Profile {
		other.Profile[i].Station = r.Length.Value - other.Profile[i].Station
	}
	other.Segments = slices.Clone(r.Segments)
	slices.Reverse(other.Segments)
	for i, g := range other.Segments {
		back := func(p [2]float64) [2]float64 { return [2]float64{r.Length.Value - p[0], p[1]} }
		g.From, g.To = back(g.To), back(g.From)
		if g.Centre != nil {
			c := back(*g.Centre)
			g.Centre = &c
		}
		other.Segments[i] = g
	}
	if s.sum(other) < s.sum(r) {
		return other
	}
	return r
}

func (s *sample) sum(r measure.Result) (sum float64) {
	for _, p := range r.Profile {
		sum += min(5, math.Abs(p.Radius-s.at(p.Station)))
	}
	return sum
}

func (out *score) scoreRadius(s *sample, r measure.Result) {
	var off, twoU []float64
	in := 0
	ss := 0.0
	for _, p := range r.Profile {
		if !s.clear(p.Station) {
			continue
		}
		e := math.Abs(p.Radius - s.at(p.Station))
		off, twoU, ss = append(off, e), append(twoU, 2*p.U), ss+e*e
		if e <= 2*p.U {
			in++
		}
	}
	n := len(off)
	if n == 0 {
		return
	}
	slices.Sort(off)
	slices.Sort(twoU)
	out.RMS, out.P95, out.Worst = math.Sqrt(ss/float64(n)), off[n*95/100], off[n-1]
	out.Inside, out.TwoU = 100*float64(in)/float64(n), twoU[n/2]
}

// clear reports whether a station lies 3 mm or more from steps, from both ends
// and from what fins and plates hide.
func (s *sample) clear(station float64) bool {
	const far = 3.0
	o := &s.truth.Object
	if station < far || station > o.Length-far {
		return false
	}
	for _, g := range o.Segments {
		if g.S0 == g.S1 && math.Abs(g.S0-station) < far {
			return false
		}
	}
	for _, f := range o.Fins {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range f.Poly {
			lo, hi = min(lo, p[0]), max(hi, p[0])
		}
		if lo-far <= station && station <= hi+far {
			return false
		}
	}
	for _, p := range o.Plates {
		if p.From-far <= station && station <= p.To+far {
			return false
		}
	}
	return true
}

// at is the true radius, 0 outside.
func (s *sample) at(station float64) float64 {
	d := &s.truth.Object.Dense
	x := station / d.Step
	if x < 0 || x > float64(len(d.Radius)-1) {
		return 0
	}
	k := min(int(x), len(d.Radius)-2)
	f := x - float64(k)
	return d.Radius[k]*(1-f) + d.Radius[k+1]*f
}
