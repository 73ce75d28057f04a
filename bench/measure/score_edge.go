package main

import (
	"image"
	"math"
	"slices"

	"scalewright/stage/measure"
)

// scoreEdge compares the outline with the mask: shared over joined area, and the
// distances between the two edges, from each to the other, in px.
func (s *sample) scoreEdge(r measure.Result) (iou, median, p95 float64) {
	iou, median, p95 = math.NaN(), math.NaN(), math.NaN()
	line := r.Contour
	if len(line) < 3 {
		return iou, median, p95
	}
	both, any := 0.0, 0.0
	w, h := s.mask.Rect.Dx(), s.mask.Rect.Dy()
	row := make([]float64, w)
	for y := range h {
		fillRow(line, float64(y), row)
		for x, a := range row {
			b := float64(s.mask.Pix[y*s.mask.Stride+x]) / 255
			both, any = both+min(a, b), any+max(a, b)
		}
	}
	iou = both / any

	truth, found := newNear(4), newNear(4)
	edge := edgeOf(s.mask)
	for _, p := range edge {
		truth.add(p)
	}
	line = dense(line, 0.25)
	for _, p := range line {
		found.add(p)
	}
	var d []float64
	for _, p := range edge {
		d = append(d, found.distance(p))
	}
	for k := 0; k < len(line); k += 4 {
		d = append(d, truth.distance(line[k]))
	}
	slices.Sort(d)
	return iou, d[len(d)/2], d[len(d)*95/100]
}

// fillRow is how much of each pixel of a row lies inside a closed line: four lines
// across the pixel, exact along them.
func fillRow(line [][2]float64, y float64, row []float64) {
	clear(row)
	const lines = 4
	for k := range lines {
		at := y - 0.5 + (float64(k)+0.5)/lines
		var xs []float64
		for i, a := range line {
			b := line[(i+1)%len(line)]
			if (a[1] > at) != (b[1] > at) {
				xs = append(xs, a[0]+(at-a[1])/(b[1]-a[1])*(b[0]-a[0])+0.5)
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			lo, hi := max(0, xs[i]), min(float64(len(row)), xs[i+1])
			for x := int(lo); float64(x) < hi; x++ {
				row[x] += max(0, min(hi, float64(x+1))-max(lo, float64(x))) / lines
			}
		}
	}
}

// edgeOf is where the mask's coverage crosses one half, along its rows and columns.
func edgeOf(mask *image.Gray) (out [][2]float64) {
	w, h := mask.Rect.Dx(), mask.Rect.Dy()
	at := func(x, y int) float64 { return float64(mask.Pix[y*mask.Stride+x]) - 127.5 }
	for y := range h {
		for x := range w {
			a := at(x, y)
			if x+1 < w {
				if b := at(x+1, y); (a > 0) != (b > 0) {
					out = append(out, [2]float64{float64(x) + a/(a-b), float64(y)})
				}
			}
			if y+1 < h {
				if b := at(x, y+1); (a > 0) != (b > 0) {
					out = append(out, [2]float64{float64(x), float64(y) + a/(a-b)})
				}
			}
		}
	}
	return out
}

// dense puts points on a closed line, no farther apart than step.
func dense(line [][2]float64, step float64) (out [][2]float64) {
	for i, a := range line {
		b := line[(i+1)%len(line)]
		n := max(1, int(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])/step)))
		for k := range n {
			t := float64(k) / float64(n)
			out = append(out, [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
		}
	}
	return out
}
