package job

import (
	"math"
	"slices"

	"scalewright/unit"
)

// sizeOf is how large a build without a body is: its longest way as the reading
// has it, else as it was made, and the second longest.
func sizeOf(r Result, read unit.Value) (overall unit.Value, across unit.Length) {
	var low, high [3]float64
	for k := range low {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
	}
	for _, c := range r.Carved {
		if c.Solid.Empty() {
			continue
		}
		b := c.Solid.Bounds()
		for k := range low {
			low[k], high[k] = min(low[k], b.Min[k]), max(high[k], b.Max[k])
		}
	}
	if low[0] > high[0] {
		return read, 0
	}
	size := []float64{high[0] - low[0], high[1] - low[1], high[2] - low[2]}
	slices.Sort(size)
	if read.X == 0 {
		read = unit.Exact(size[2])
	}
	return read, unit.Length(size[1])
}
