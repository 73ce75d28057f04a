package measure

import (
	"math"
	"slices"
)

// capless takes away what stands before an end's rim and hardly any edge shows, and reports
// whether there was any: a few stray points make a cap of a plain face.
func (f *fitting) capless() bool {
	any := false
	for _, step := range [2]int{1, -1} {
		n := len(f.form.joints)
		end := 0
		if step < 0 {
			end = n - 1
		}
		a, rim := f.form.joints[end], end
		for i := end; i >= 0 && i < n && math.Abs(f.form.joints[i].s-a.s) < capReach; i += step {
			j := f.form.joints[i]
			if j.r > f.form.joints[rim].r && j.r-a.r >= capSteep*math.Abs(j.s-a.s) {
				rim = i
			}
		}
		b := f.form.joints[rim]
		if rim == end || n-(rim-end)*step < 3 || b.s == a.s {
			continue
		}
		x, at := f.residuals()
		shown := 0
		for k, m := range at {
			if m.ok && math.Abs(x[k]) < strayTold*f.scale && (m.at.s-b.s)*(a.s-b.s) > 0 {
				shown++
			}
		}
		if float64(shown) > capShown*b.r/mmPerPixel(f.view, f.axis) {
			continue
		}
		f.form.joints = slices.Delete(f.form.joints, min(end, rim+1), max(rim, end+1))
		f.form.spans = slices.Delete(f.form.spans, min(end, rim), max(rim, end))
		any = true
	}
	return any
}

// capSteep is how steeply, as a slope, a cap runs in that may be none: what is more pointed
// shows at its sides. capShown is how much edge a cap has that is one, as a share of its
// rim's radius: where it shows, it shows nearly all round.
const (
	capSteep = 1.5
	capShown = 0.5
	capReach = 8.0 // mm of the axis looked at
)
