package handling_test

import (
	"fmt"
	"math"
	"testing"

	"scalewright/craft/handling"
)

// H 40, V 30, D 70 cm by NIOSH 94-110: 23 · 0.625 · 0.865 · 0.8843 = 10.996 kg.
func ExampleLift_Limit() {
	fmt.Printf("%.2f kg\n", handling.Lift{Horizontal: 40, Vertical: 30, Travel: 70}.Limit())
	// Output: 11.00 kg
}

func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name string
		lift handling.Lift
		want float64
	}{
		// NIOSH 94-110: 23 kg under ideal conditions, hands 25 cm off, at 75 cm.
		{"ideal", handling.Lift{Horizontal: 25, Vertical: 75, Travel: 25}, 23},
		{"nearer counts no more", handling.Lift{Horizontal: 10, Vertical: 75, Travel: 0}, 23},
		{"out of reach", handling.Lift{Horizontal: 64, Vertical: 75}, 0},
		{"above the head", handling.Lift{Horizontal: 25, Vertical: 176}, 0},
	} {
		if got := c.lift.Limit(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v kg, want %v", c.name, got, c.want)
		}
	}
}
