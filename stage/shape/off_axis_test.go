package shape_test

import (
	"testing"

	"scalewright/model"
	"scalewright/stage/shape"
)

// A part that is not turned on the build's axis is refused, not shaped as if it
// were.
func TestOwnAxisIsRefused(t *testing.T) {
	body := model.Lines(0, 50, 100, 50)
	p := part(body, 3)
	p.Axis = model.Axis{Direction: [3]float64{0, 1, 0}}
	_, found, err := shape.Run(t.Context(), shape.Input{Part: p, Body: body})
	if err != nil || len(found) != 1 || found[0].Code != "part-off-axis" {
		t.Errorf("found %v, %v; want part-off-axis", found, err)
	}
}
