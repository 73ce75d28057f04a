package matgrid

import "testing"

// Two lines that are heavier at both ends of a shadow make no round; with others beyond
// them, or a third, they do.
func TestHeavyRound(t *testing.T) {
	weights := func(n int, heavy ...int) map[int]float64 {
		w := map[int]float64{}
		for k := range n {
			w[k+1] = 0.01 * float64(k*k%5) // some unrest
		}
		for _, k := range heavy {
			w[k] += 0.5
		}
		return w
	}
	for _, tt := range []struct {
		name    string
		weights map[int]float64
		want    int
	}{
		{"first and last", weights(7, 1, 7), 0},
		{"two with others beyond", weights(9, 2, 7), 5},
		{"three", weights(13, 1, 7, 13), 6},
		{"one", weights(9, 5), 0},
		{"not even", weights(12, 2, 5, 11), 0},
		{"few lines", weights(5, 2, 4), 0},
	} {
		if got := heavyRound(tt.weights); got != tt.want {
			t.Errorf("%s: one in %d, want %d", tt.name, got, tt.want)
		}
	}
}

// What border or ruler speak against is not likely.
func TestLikely(t *testing.T) {
	tests := []struct {
		name   string
		heavy  int
		border int
		rulers []Strokes
		want   float64
	}{
		{"nothing else seen", 5, 0, nil, 10},
		{"no line heavier", 0, 0, nil, 0},
		{"inches and halves both", 4, 0, nil, 0},
		{"eighths are no centimetre's", 5, 8, nil, 0},
		{"eighths, every third", 3, 8, nil, 25.4},
		{"half inches and half centimetres both", 2, 0, nil, 0},
		{"25.4 millimetres to a step", 5, 0, []Strokes{{PerStep: 25.4, Longer: EveryFifth}}, 0},
		{"ten millimetres to a step", 5, 0, []Strokes{{PerStep: 10, Longer: EveryFifth}}, 10},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := Found{Heavy: tt.heavy, Rulers: tt.rulers}
			if got := f.likely(division{Count: tt.border}); got != tt.want {
				t.Errorf("likely %g mm, want %g", got, tt.want)
			}
		})
	}
}
