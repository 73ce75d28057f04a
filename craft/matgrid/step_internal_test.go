package matgrid

import "testing"

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
