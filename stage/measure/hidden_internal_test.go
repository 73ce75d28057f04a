package measure

import (
	"math"
	"testing"
)

// Where no edge tells, a profile is drawn as its outline runs on, but not past what is seen
// on either side, and as unsure as a step anywhere between; where there is no outline,
// straight.
func TestBridgeUnseen(t *testing.T) {
	const from, to, n = 5.0, 20.0, 21
	rowsWith := func(outline func(s float64) float64) []row {
		rows := make([]row, n)
		for k := range rows {
			s := float64(k) / 2
			rows[k].s, rows[k].r, rows[k].seen, rows[k].u = s, from, bothSides, 0.1
			if s > 3 {
				rows[k].r = to
			}
			if s > 1 && s < 9 {
				rows[k].seen = notSeen
				if rows[k].outlined = outline != nil; rows[k].outlined {
					rows[k].r = outline(s)
				}
			}
		}
		return rows
	}
	at := func(rows []row, s float64) row { return rows[int(2*s)] }
	step := func(s float64) float64 {
		if s < 8 {
			return from
		}
		return to
	}
	for _, tt := range []struct {
		name    string
		outline func(s float64) float64
		s, want float64
		u       float64 // at least
	}{
		{"a step, before it", step, 5, from, (to - from) / math.Sqrt(3)},
		{"a step, past it", step, 8.5, to, (to - from) / math.Sqrt(3)},
		{"running on too far", func(float64) float64 { return 30 }, 5, to, (to - from) / math.Sqrt(3)},
		{"running on too low", func(float64) float64 { return 1 }, 5, from, (to - from) / math.Sqrt(3)},
		{"no outline", nil, 5, (from + to) / 2, (to - from) / math.Sqrt(12)},
	} {
		rows := rowsWith(tt.outline)
		unseen := bridgeUnseen(rows)
		got := at(rows, tt.s)
		if math.Abs(got.r-tt.want) > 1e-9 || got.u < tt.u || got.u > tt.u+2 {
			t.Errorf("%s: radius %.2f ± %.2f mm, want %.2f ± %.2f and a little", tt.name, got.r, got.u, tt.want, tt.u)
		}
		if len(unseen) != 1 || unseen[0].From != 1.5 || unseen[0].To != 8.5 {
			t.Errorf("%s: not seen are %v", tt.name, unseen)
		}
	}
}

// What hides lines over the edge of what is looked at is passed over for something smaller
// that does not reach it: a sheet lies over a corner of the mat.
func TestHidingWithin(t *testing.T) {
	const w, h = 200, 150
	m := ground{
		reduced: &reduced{w: w, h: h, n: 1}, region: make([]bool, w*h), scale: 2, thin: 1, pitch: [2]float64{10, 10},
		looks: &look{says: make([]says, w*h), printed: true},
	}
	for i := range m.region {
		x, y := i%w, i/w
		m.region[i] = x > 4 && y > 4 && x < w-5 && y < h-5
		sheet, body := x > 130 && y > 90, x > 40 && x < 100 && y > 50 && y < 70
		if m.region[i] && (sheet || body) {
			m.looks.says[i] = saysHidden
		}
	}
	got := m.hiding()
	if got.on == nil || !got.on[60*w+70] || got.on[120*w+160] {
		t.Error("what hides lines is the sheet over the corner, not the body within")
	}
}
