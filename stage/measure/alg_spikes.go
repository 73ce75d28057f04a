package measure

import (
	"math"
	"slices"
)

// A disc or a rim thinner than spikeThin at half its height, and spikeHigh and more above
// what lies beside it, is none: a few points of a printed line or a scratch stand off the
// edge there.
const (
	spikeThin = 0.8 // mm
	spikeHigh = 1.0 // mm
)

// plain takes spikes, lips and knife's edges out of the form and reports whether there were
// any.
func (f *form) plain() bool {
	lips, points, steps, knives := f.lipless(), f.pointless(), f.stepless(), f.knifeless()
	return f.blunted() || lips || points || steps || knives
}

// flush leaves no face at an end but the end's own, and reports whether there were any: a disc
// of no thickness is none.
func (f *form) flush() bool {
	from, to := 0, len(f.spans)
	for to-from > 1 && f.spans[from].kind == faceSpan {
		from++
	}
	for to-from > 1 && f.spans[to-1].kind == faceSpan {
		to--
	}
	gone := to-from < len(f.spans)
	f.joints, f.spans = f.joints[from:to+1], f.spans[from:to]
	return gone
}

// blunted takes spikes out of the form and reports whether there were any.
func (f *form) blunted() bool {
	any := false
	for i := 1; i < len(f.joints)-1; i++ {
		a, b := f.joints[i-1], f.joints[i+1]
		k := i // the spike's top may be two joints
		if i+2 < len(f.joints) && f.joints[i+1].s-f.joints[i].s < spikeThin && f.joints[i+1].r > b.r-spikeHigh && f.joints[i+2].r < f.joints[i+1].r-spikeHigh {
			k, b = i+1, f.joints[i+2]
		}
		top := min(f.joints[i].r, f.joints[k].r)
		high := top - max(a.r, b.r)
		if wide := (b.s - a.s + f.joints[k].s - f.joints[i].s) / 2; high < spikeHigh || wide > spikeThin {
			continue
		}
		f.joints = slices.Delete(f.joints, i, k+1)
		f.spans = slices.Delete(f.spans, i, k+1)
		f.spans[i-1] = span{}
		if f.joints[i-1].s == f.joints[i].s {
			f.spans[i-1].kind = faceSpan
		}
		any = true
		i--
	}
	return any
}

// lipThin is how wide, mm, a lip is at most that is none: the step beside it is blurred, and
// what its edge is off there was drawn. Printed, it would be a wall thinner than two lines.
const lipThin = 0.5

// lipless takes lips out of the form and reports whether there were any: a step up by less
// than spikeHigh, and within lipThin a step down by more than that, or the other way about.
// What stands beside it runs on to the greater step.
func (f *form) lipless() bool {
	any := false
	for i := 0; i+3 < len(f.joints); i++ {
		q := f.joints[i : i+4]
		faces := f.spans[i].kind == faceSpan && f.spans[i+2].kind == faceSpan
		up, down := q[1].r-q[0].r, q[2].r-q[3].r
		if !faces || q[2].s-q[1].s > lipThin || min(up, down) <= 0 || min(up, down) >= spikeHigh || max(up, down) < spikeHigh {
			continue
		}
		if up < down {
			q[0].s = q[3].s
		} else {
			q[3].s = q[0].s
		}
		f.joints = slices.Delete(f.joints, i+1, i+3)
		f.spans = slices.Delete(f.spans, i, i+2)
		f.spans[i] = span{kind: faceSpan}
		any = true
	}
	return any
}

// pointless takes pointed lips out of the form and reports whether there were any: a short
// steep rise before a face that falls by more, or the other way about.
func (f *form) pointless() bool {
	any := false
	for i := 1; i+1 < len(f.joints); i++ { // the face is span i, or span i-1
		foot, top := f.joints[i-1], f.joints[i]
		if i < len(f.spans) && i > 1 && f.pointed(i-1, foot, top, i) {
			f.joints[i].r = foot.r
			f.joints, f.spans = slices.Delete(f.joints, i-1, i), slices.Delete(f.spans, i-1, i)
			any = true
			continue
		}
		foot = f.joints[i+1]
		if i+2 < len(f.joints) && f.pointed(i, foot, top, i-1) {
			f.joints[i].r = foot.r
			f.joints, f.spans = slices.Delete(f.joints, i+1, i+2), slices.Delete(f.spans, i, i+1)
			any = true
		}
	}
	return any
}

// stepless takes low faces out of the form that lead up to a steep slant falling by more, or
// the other way about, and reports whether there were any.
func (f *form) stepless() bool {
	any := false
	falls := func(slant int, top, low joint) bool {
		return f.spans[slant].kind == lineSpan && top.r-low.r >= spikeHigh && top.r-low.r > math.Abs(low.s-top.s)
	}
	for i := 1; i+1 < len(f.spans); i++ {
		a, b := f.joints[i], f.joints[i+1]
		if f.spans[i].kind != faceSpan || math.Abs(b.r-a.r) >= spikeHigh {
			continue
		}
		gone := -1
		switch before, after := f.joints[i-1], f.joints[i+2]; {
		case b.r > a.r && after.r < a.r && falls(i+1, b, after):
			gone = i + 1
		case a.r > b.r && before.r < b.r && falls(i-1, a, before):
			gone = i
		}
		if gone > 0 {
			f.joints, f.spans = slices.Delete(f.joints, gone, gone+1), slices.Delete(f.spans, i, i+1)
			any = true
		}
	}
	return any
}

// pointed reports whether span slant, from its foot to its top, and the face beside it make a
// pointed lip.
func (f *form) pointed(slant int, foot, top joint, face int) bool {
	beyond := f.spans[max(0, slant-1)] // what leads on to the foot
	if face < slant {
		beyond = f.spans[min(slant+1, len(f.spans)-1)]
	}
	low := f.joints[face].r
	if face > slant {
		low = f.joints[face+1].r
	}
	wide, high := math.Abs(top.s-foot.s), top.r-foot.r
	return f.spans[slant].kind != faceSpan && f.spans[face].kind == faceSpan && beyond.kind != faceSpan &&
		wide <= lipThin && high > wide && high < spikeHigh && top.r-low >= spikeHigh
}

// knifeSteep is how steeply a hollow may run out before a face: steeper, its rim is a knife's
// edge, which no photograph tells from a sharp one and no printer prints.
const knifeSteep = 45 * deg

// knifeless straightens hollows that run out in a knife's edge, and reports whether there
// were any.
func (f *form) knifeless() bool {
	any := false
	for i, s := range f.spans {
		if s.kind != arcSpan || s.rise >= -flatRise {
			continue
		}
		a, b := f.joints[i], f.joints[i+1]
		c := arcOver(a, b, s.rise)
		before := i > 0 && f.spans[i-1].kind == faceSpan && f.joints[i-1].r < a.r && a.r > b.r
		after := i+1 < len(f.spans) && f.spans[i+1].kind == faceSpan && f.joints[i+2].r < b.r && b.r > a.r
		if before && math.Abs(c.normal(a)) > knifeSteep || after && math.Abs(c.normal(b)) > knifeSteep {
			f.spans[i] = span{}
			any = true
		}
	}
	return any
}
