package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/unit"
)

const (
	errorHeight = 24.0
	sure        = 2.0 // standard uncertainties: 95 times in 100 (JCGM 100:2008, 6.3.3)
)

// Error is the doubt of the radius along the build, at full size, as a band that
// holds it 95 times in 100; where the photograph does not show the edge and it was
// measured otherwise, the band is hatched.
func Error(p *Prepared, v View) *drawing.Scene {
	const title = "Error"
	switch {
	case len(p.doubts) < 2:
		return empty(v, title, "No doubt to draw: the outline was not measured along the axis.")
	case v.Folded:
		return folded(v, title, saysError(p, v.System), readError(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	s := v.paper(errorHeight)
	s.Title, s.Desc = title, saysError(p, v.System).Says
	p.underlay(s, v)
	most := 0.0
	for _, d := range p.doubts {
		if d.station >= float64(v.Span.From) && d.station <= float64(v.Span.To) {
			most = max(most, sure*d.u)
		}
	}
	if most == 0 {
		most = 1
	}
	const middle, high = errorHeight / 2, errorHeight/2 - 4
	y := func(e float64) float64 { return middle - e/most*high }
	clip := drawing.Rect{X: edge, W: s.Width - 2*edge, H: errorHeight}
	begin(s, "doubt", "curve", s.Desc, float64(p.Span.From), float64(p.Span.To))
	for _, run := range p.doubtRuns(v) {
		band := &drawing.Path{}
		for _, d := range run {
			band.Line(drawing.Pt(v.X(unit.Length(d.station)), y(sure*d.u)))
		}
		for k := range run {
			d := run[len(run)-1-k]
			band.Line(drawing.Pt(v.X(unit.Length(d.station)), y(-sure*d.u)))
		}
		band = band.Close().Clipped(clip)
		if band.Empty() {
			continue
		}
		s.Path(band, drawing.Filled(drawing.Shade))
		if run[0].typed {
			s.Hatch(band, drawing.Hatch{Pitch: 1, Stroke: drawing.Fine.In(drawing.Rule)})
		}
		for _, sign := range [...]float64{1, -1} {
			line := &drawing.Path{}
			for _, d := range run {
				line.Line(drawing.Pt(v.X(unit.Length(d.station)), y(sign*sure*d.u)))
			}
			s.Path(line.Within(clip), drawing.Lined(drawing.Thin))
		}
	}
	s.End()
	s.Line(drawing.Pt(edge, middle), drawing.Pt(s.Width-edge, middle), drawing.CentreLine)
	p.worstDoubt(s, v, y)
	hang(s, v)
	return s
}

// worstDoubt points out the largest doubt of the verdict.
func (p *Prepared) worstDoubt(s *drawing.Scene, v View, y func(float64) float64) {
	e := p.Design.Error
	at := float64(e.Station)
	if !(e.U > 0) || !finite(at, float64(e.U)) || !v.holds(at, at) {
		return
	}
	q := drawing.Pt(v.X(e.Station), max(2.2, y(sure*float64(e.U))))
	begin(s, "largest-error", "label", "largest error ± "+hundredths(sure*float64(e.U)), at, at)
	defer s.End()
	s.Path(drawing.Circle(q, 0.6), drawing.Filled(drawing.Ink))
	t := drawing.Text{At: q.Add(drawing.Pt(1.6, -0.4)), V: drawing.Centre, String: "± " + hundredths(sure*float64(e.U)), Face: drawing.Bold, Size: drawing.SizeSmall, Halo: 0.6}
	if b := t.Bounds(); b.X+b.W > s.Width-edge {
		t.At.X, t.H = q.X-1.6, drawing.End
	}
	s.Text(t)
}

// doubtRuns are the places seen, thinned to the paper, in stretches measured one
// way.
func (p *Prepared) doubtRuns(v View) [][]doubtPlace {
	var out [][]doubtPlace
	step := wallStep / v.Scale()
	from, to := v.seen()
	for _, d := range p.doubts {
		if d.station < from-5*step || d.station > to+5*step {
			// The first place past an end carries the band there.
			if d.station < from {
				out = [][]doubtPlace{{d}}
				continue
			}
			if n := len(out); n > 0 {
				out[n-1] = append(out[n-1], d)
			}
			break
		}
		n := len(out)
		switch {
		case n == 0:
			out = append(out, []doubtPlace{d})
		case out[n-1][0].typed != d.typed:
			last := out[n-1][len(out[n-1])-1]
			last.typed = d.typed
			out = append(out, []doubtPlace{last, d})
		default:
			run := &out[n-1]
			if k := len(*run) - 1; k > 0 && d.station-(*run)[k-1].station < step {
				(*run)[k] = doubtPlace{d.station, max(d.u, (*run)[k].u), d.typed}
				continue
			}
			*run = append(*run, d)
		}
	}
	kept := out[:0]
	for _, run := range out {
		if len(run) > 1 {
			kept = append(kept, run)
		}
	}
	return kept
}

// doubtAt is the doubt of the place measured nearest to a station; false off the
// ends.
func (p *Prepared) doubtAt(station float64) (doubtPlace, bool) {
	best, at := math.Inf(1), doubtPlace{}
	for _, d := range p.doubts {
		if x := math.Abs(d.station - station); x < best {
			best, at = x, d
		}
	}
	n := len(p.doubts)
	return at, n > 0 && station >= p.doubts[0].station-best && station <= p.doubts[n-1].station+1
}

func saysError(p *Prepared, u unit.System) Summary {
	e := p.Design.Error
	if len(p.doubts) < 2 {
		return Summary{Says: "not measured along the axis"}
	}
	out := Summary{Says: fmt.Sprintf("largest ± %s at %s, 95 times in 100", hundredths(sure*float64(e.U)), u.Whole(e.Station))}
	typed := 0
	for i, d := range p.doubts {
		if d.typed && (i == 0 || !p.doubts[i-1].typed) {
			typed++
		}
	}
	switch typed {
	case 0:
	case 1:
		out.Remark = "one stretch measured by hand"
	default:
		out.Remark = fmt.Sprintf("%d stretches measured by hand", typed)
	}
	return out
}

func readError(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok {
		return Reading{}
	}
	d, ok := p.doubtAt(at)
	if !ok {
		return Reading{Here: "not known here"}
	}
	out := Reading{Here: "± " + hundredths(sure*d.u)}
	if p.Enlarge.Ratio > 0 {
		out.Reference = "± " + hundredths(sure*d.u/p.Enlarge.Ratio) + " on the reference"
	}
	return out
}

// errorRows is how many places the table lists at most.
const errorRows = 60

// ErrorTable lists the doubt at even steps, and where it is largest.
func ErrorTable(p *Prepared, u unit.System) Table {
	t := table("Error: "+saysError(p, u).Says, "#station", "#radius within, 95 in 100", "how")
	step := (len(p.doubts) + errorRows - 1) / errorRows
	for i := 0; i < len(p.doubts); i += max(1, step) {
		worst := p.doubts[i]
		for _, d := range p.doubts[i:min(i+max(1, step), len(p.doubts))] {
			if d.u > worst.u {
				worst = d
			}
		}
		how := "photograph"
		if worst.typed {
			how = "by hand"
		}
		t.row(u.Whole(unit.Length(worst.station)), "± "+hundredths(sure*worst.u), how)
	}
	return t
}
