package matgrid

import (
	"math"
	"slices"
)

// inchLines tells which of the lines that a border divided into eighths or
// sixteenths belongs to are an inch apart.
type inchLines int

const (
	unsaid      inchLines = iota
	everyLine             // strokes as long at each line: an inch from line to line
	everySecond           // longer at every second line: half an inch
)

// How different the strokes at lines and at those between must be, and how sure
// that is, for inches to be told from halves; and how alike for them to be one.
const (
	unlikeStrokes = 0.15
	alikeStrokes  = 0.08
	strokesSure   = 4.0
)

// inchLines compares the strokes at the lines of even number with those of odd.
func (e strip) inchLines() inchLines {
	var all [2][]float64
	for k := 1; k < len(e); k++ {
		if n, ok := strokeLength(&e[k-1], &e[k]); ok {
			all[k%2] = append(all[k%2], n)
		}
	}
	var middle, doubt [2]float64
	for p, v := range all {
		if len(v) < 2 {
			return unsaid
		}
		slices.Sort(v)
		n := len(v)
		middle[p] = (v[n/2] + v[(n-1)/2]) / 2
		off := make([]float64, n)
		for k, x := range v {
			off[k] = math.Abs(x - middle[p])
		}
		slices.Sort(off)
		// Of so few the scatter is no less than a sample.
		doubt[p] = (1.4826*off[n/2] + 0.5) / math.Sqrt(float64(n))
	}
	long := max(middle[0], middle[1])
	apart, sigma := math.Abs(middle[0]-middle[1]), math.Hypot(doubt[0], doubt[1])
	switch {
	case apart > unlikeStrokes*long && apart > strokesSure*sigma:
		return everySecond
	case apart < alikeStrokes*long && strokesSure*sigma < 2*unlikeStrokes*long && e.figured(long):
		return everyLine
	}
	return unsaid
}

// What is beside a line must be so many times as restless as what lies half way to
// the next for a figure to stand there, and at so many of the lines.
const (
	figureClear = 1.5
	mostFigured = 0.8
)

// figured reports whether a figure stands at every line, beyond strokes so many
// samples long: inches are numbered, half inches are not.
func (e strip) figured(long float64) bool {
	from := int(math.Ceil(long)) + 2
	const half = perStep / 8
	n := 0
	for k := 1; k < len(e); k++ {
		at, between := 0.0, 0.0
		for i := from; i < stripLines; i++ {
			a, b := e[k-1][i], e[k][i]
			if a == nil || b == nil {
				break
			}
			at += restless(slices.Concat(a[perStep-half:], b[:half]))
			between += restless(b[perStep/2-half : perStep/2+half])
		}
		if at > figureClear*between {
			n++
		}
	}
	return float64(n) >= mostFigured*float64(len(e)-1)
}

// restless is how far light strays from its mean.
func restless(light []float64) (sum float64) {
	mean := 0.0
	for _, x := range light {
		mean += x / float64(len(light))
	}
	for _, x := range light {
		sum += math.Abs(x - mean)
	}
	return sum
}

// strokeLength is how far outwards, in samples, the stroke at the line between two
// steps reaches: to where it is half as clear as at its foot. Figures begin
// beyond a gap.
func strokeLength(before, after *[stripLines][]float64) (float64, bool) {
	const foot, beside = 4, perStep / 16 // short of the next stroke
	var height [stripLines]float64
	for i := range height {
		a, b := before[i], after[i]
		if a == nil || b == nil {
			return 0, false
		}
		height[i] = (a[perStep-1]+b[0]+b[1])/3 - (a[perStep-beside]+b[beside])/2
	}
	top := 0.0
	for _, h := range height[:foot] {
		top += h / foot
	}
	if top < leastStroke {
		return 0, false
	}
	for i := foot; i < stripLines; i++ {
		if height[i] < top/2 {
			return float64(i-1) + (height[i-1]-top/2)/(height[i-1]-height[i]), true
		}
	}
	return stripLines, true
}

// leastStroke is the least height of a stroke whose length is told, of 255.
const leastStroke = 3.0
