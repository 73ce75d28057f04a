package measure

import (
	"math"

	"scalewright/model"
)

// formOf is an outline as a form; ends that are tips close on the axis.
func formOf(o model.Outline, tips [2]bool) (f form) {
	for i, s := range o {
		if i == 0 {
			f.joints = append(f.joints, joint{s.From.Station, s.From.Radius})
		}
		g := span{}
		switch {
		case s.Kind == model.Arc:
			g.kind = arcSpan
			c := math.Hypot(s.To.Station-s.From.Station, s.To.Radius-s.From.Radius) / 2
			g.rise = s.R - math.Sqrt(max(0, s.R*s.R-c*c))
			if (s.From.Radius+s.To.Radius)/2 < s.Centre.Radius {
				g.rise = -g.rise
			}
		case s.To.Station == s.From.Station:
			g.kind = faceSpan
		}
		f.joints = append(f.joints, joint{s.To.Station, s.To.Radius})
		f.spans = append(f.spans, g)
	}
	for k, tip := range tips {
		if tip {
			f.close(k == 1)
		}
	}
	return f
}

// tipRadius is the radius, mm, below which an end is drawn to the axis as it is; else a round
// cap is put on.
const tipRadius = 0.5

// close brings an end to the axis.
func (f *form) close(last bool) {
	k, in := 0, 1.0
	if last {
		k, in = len(f.joints)-1, -1
	}
	end := &f.joints[k]
	if end.r < tipRadius {
		end.r = 0
		return
	}
	tip := joint{end.s, 0}
	end.s += in * 0.3 * end.r
	cap := span{arcSpan, 0.2 * end.r}
	if last {
		f.joints, f.spans = append(f.joints, tip), append(f.spans, cap)
	} else {
		f.joints, f.spans = append([]joint{tip}, f.joints...), append([]span{cap}, f.spans...)
	}
	f.order()
}

// order keeps stations from running back, along the joints and along arcs.
func (f *form) order() {
	for i := 1; i < len(f.joints); i++ {
		f.joints[i].s = max(f.joints[i].s, f.joints[i-1].s)
	}
	for i := range f.spans {
		if g := &f.spans[i]; g.kind == arcSpan {
			most := risesMost(f.joints[i], f.joints[i+1])
			g.rise = max(-most, min(most, g.rise))
		}
	}
}

// outline is the form as an outline, stations counted from zero upwards, or downwards
// where it is flipped.
func (f *form) outline(zero float64, flip bool) (o model.Outline) {
	at := func(j joint) model.Point {
		if flip {
			return model.Point{Station: zero - j.s, Radius: j.r}
		}
		return model.Point{Station: j.s - zero, Radius: j.r}
	}
	for i, g := range f.spans {
		a, b := f.joints[i], f.joints[i+1]
		s := model.Segment{Kind: model.Line, From: at(a), To: at(b)}
		if g.kind == arcSpan && math.Abs(g.rise) > flatRise {
			c := arcOver(a, b, g.rise)
			s.Kind, s.R = model.Arc, math.Abs(c.bend)
			s.Centre = at(joint{c.s, c.r})
		}
		if flip {
			s.From, s.To = s.To, s.From
			o = append(model.Outline{s}, o...)
			continue
		}
		o = append(o, s)
	}
	return o
}
