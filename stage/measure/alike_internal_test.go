package measure

import "testing"

// What is borne out enough is a turned body: both sides fairly, or one well and the other
// in part with stations that agree.
func TestBorneOut(t *testing.T) {
	for _, tt := range []struct {
		name          string
		borne         borne
		agree, differ int
		even          bool
		want          bool
	}{
		{"stations agree", borne{0.5, [2]float64{0.3, 0.3}}, 40, 30, true, true},
		{"uneven, its sides must be borne out", borne{0.9, [2]float64{0.9, 0.6}}, 40, 5, false, false},
		{"both sides fairly", borne{0.9, [2]float64{0.55, 0.6}}, 5, 90, true, true},
		{"one in a shadow", borne{0.81, [2]float64{0.95, 0.45}}, 80, 110, true, true},
		{"one partly in a shadow", borne{0.82, [2]float64{0.95, 0.55}}, 80, 110, true, true},
		{"one in a shadow, and nothing agrees", borne{0.81, [2]float64{0.95, 0.45}}, 20, 170, true, false},
		{"one in a shadow, cut out uneven", borne{0.81, [2]float64{0.95, 0.45}}, 80, 110, false, false},
		{"one side not at all", borne{0.9, [2]float64{0.95, 0.2}}, 80, 110, true, false},
		{"neither well", borne{0.81, [2]float64{0.7, 0.5}}, 80, 110, true, false},
	} {
		if got := tt.borne.turned(tt.agree, tt.differ, tt.even); got != tt.want {
			t.Errorf("%s: turned %v", tt.name, got)
		}
	}
}
