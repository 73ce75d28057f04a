package lane_test

import (
	"testing"

	"scalewright/lane"
	"scalewright/lane/lanetest"
)

// How long a lane takes to redraw is measured by bench/lanes; this is for finding
// where the time goes.
func BenchmarkElevation(b *testing.B) {
	for name, p := range map[string]*lane.Prepared{"demo": prepared(b, "foyer-rocket"), "many": lane.Prepare(lanetest.Many(200))} {
		b.Run(name, func(b *testing.B) {
			v := lane.View{Span: p.Span, Width: 300}
			b.ReportAllocs()
			for b.Loop() {
				lane.Elevation(p, v)
			}
		})
	}
}
