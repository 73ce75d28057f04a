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
