package redraw

import (
	"math"

	"scalewright/model"
)

// Apart is how far two outlines lie from one another at most, mm, and where: the
// Hausdorff distance of their polylines, the faces across the ends included, read at
// places a share of a mm apart.
func Apart(a, b model.Outline) (most float64, at model.Point) {
	p, q := dense(a), dense(b)
	if len(p) == 0 || len(q) == 0 {
		return 0, model.Point{}
	}
	for _, pair := range [2][2][]model.Point{{p, q}, {q, p}} {
		for _, place := range pair[0] {
			if d := distance(place, pair[1]); d > most {
				most, at = d, place
			}
		}
	}
	if most < same {
		return 0, model.Point{}
	}
	return most, at
}

// same is a distance, mm, that the arithmetic of chords leaves between an outline
// and itself.
const same = 1e-9

// Places of an outline are read at most this share of its length apart, and arcs
// become chords this near, mm.
const (
	places = 400.0
	sag    = 0.001
)

func dense(o model.Outline) []model.Point {
	line := o.Polyline(sag)
	if len(line) < 2 {
		return line
	}
	line = append([]model.Point{{Station: line[0].Station}}, line...)
	line = append(line, model.Point{Station: line[len(line)-1].Station})
	step := (o.End() - o.Start()) / places
	out := []model.Point{line[0]}
	for i := 1; i < len(line); i++ {
		n := 1
		if step > 0 {
			n = max(1, min(places, int(math.Ceil(apart(line[i-1], line[i])/step))))
		}
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			out = append(out, model.Point{
				Station: line[i-1].Station + float64(t*(line[i].Station-line[i-1].Station)),
				Radius:  line[i-1].Radius + float64(t*(line[i].Radius-line[i-1].Radius)),
			})
		}
	}
	return out
}

// distance of a place from a polyline.
func distance(p model.Point, line []model.Point) float64 {
	least := apart(p, line[0])
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if min(a.Station, b.Station)-p.Station > least || p.Station-max(a.Station, b.Station) > least {
			continue
		}
		dx, dy := b.Station-a.Station, b.Radius-a.Radius
		t := 0.0
		if run := dx*dx + dy*dy; run > 0 {
			t = min(1, max(0, (float64((p.Station-a.Station)*dx)+float64((p.Radius-a.Radius)*dy))/run))
		}
		least = min(least, apart(p, model.Point{Station: a.Station + float64(t*dx), Radius: a.Radius + float64(t*dy)}))
	}
	return least
}
