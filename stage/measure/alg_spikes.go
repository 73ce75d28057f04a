package measure

import "slices"

// A disc or a rim thinner than spikeThin at half its height, and spikeHigh and more above
// what lies beside it, is none: a few points of a printed line or a scratch stand off the
// edge there.
const (
	spikeThin = 0.8 // mm
	spikeHigh = 1.0 // mm
)

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
