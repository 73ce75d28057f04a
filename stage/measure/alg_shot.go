package measure

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
	"scalewright/finding"
)

// What is wrong with a shot, as far as it can be told from the photograph. Each
// limit is where a fault begins to cost more than the rest of the measuring does.
const (
	// blurPx and blurMM: a lens in focus and held still blurs by one pixel. Past two,
	// corners are read rounder than they are as soon as that is a tenth of a millimetre.
	blurPx, blurMM = 2.0, 0.1

	// burntEdge is the share of the object's edge, burntMat that of the mat, past which
	// too much is at the top of the scale. A clipped side puts the half-way light of a
	// blurred edge outside of where it is.
	burntEdge, burntMat = 0.3, 0.1
	burntAt             = 253 // of 255: the top of the scale after JPEG
	burntDepth          = 4.0 // pixels inside the edge

	// darkWhite is how light, of white, the lightest hundredth must be at least, most of
	// it printed lines: with nearly three stops unused the darker half of a mat has a
	// dozen 8-bit values left.
	darkWhite = 0.15

	// tiltMost: leaned further, a step hides more than a fifth of its height behind it.
	tiltMost = 11 * deg

	// parallaxMost is what the parallax may leave unsure of a radius, as a share, standard:
	// as much as a mat's print does.
	parallaxMost = camera.MatDoubt

	// farOver is how far the object may reach beyond the printed grid, mm, before its
	// edge is against something else than the mat; cutPx is how near to the picture's
	// border, pixels, it may come.
	farOver = 12.0
	cutPx   = 4.0
)

// checkPicture says what is wrong with a photograph in which no mat was found.
func checkPicture(ctx context.Context, p *picture, in Input, list *finding.List) error {
	sigma, ok, err := p.blur(ctx)
	if err != nil {
		return err
	}
	if ok && sigma > blurPx {
		list.Add(finding.New("photo-blurred-all", in.PhotoAt, finding.Args{"px": rounded(sigma, 1)}))
	}
	white, burnt := p.lightest()
	switch {
	case white < darkWhite:
		list.Add(finding.New("photo-dark", in.PhotoAt, finding.Args{"share": rounded(100*white, 1)}))
	case burnt > 2*burntMat:
		list.Add(finding.New("photo-burnt", in.PhotoAt, finding.Args{
			"edge": finding.Number(0), "mat": rounded(100*burnt, 0),
		}))
	}
	return nil
}

// rounded is a figure to so many places after the point.
func rounded(x float64, places int) finding.Number {
	k := math.Pow10(places)
	return finding.Number(math.Round(k*x) / k)
}

// burnt reports whether two channels of a pixel are at the top of the scale.
func (p *picture) burnt(i int) bool {
	n := 0
	for _, v := range p.rgb[i : i+3] {
		if v >= burntAt {
			n++
		}
	}
	return n >= 2
}

// lightest is the light, of white, that one pixel in a hundred exceeds, and the
// share of pixels at the top of the scale; one pixel in nine is looked at.
func (p *picture) lightest() (white, burnt float64) {
	var all tones
	for y := 1; y < p.h; y += 3 {
		for x := 1; x < p.w; x += 3 {
			all.add(p, 3*(y*p.w+x))
		}
	}
	return all.white(), all.burntShare()
}

// tones counts pixels by their largest value.
type tones struct {
	n     [256]int
	burnt int
	all   int
}

func (t *tones) add(p *picture, i int) {
	t.n[max(p.rgb[i], p.rgb[i+1], p.rgb[i+2])]++
	t.all++
	if p.burnt(i) {
		t.burnt++
	}
}

func (t *tones) white() float64 {
	over := t.all / 100
	for v := 255; v >= 0; v-- {
		if over -= t.n[v]; over < 0 {
			return float64(linear()[v])
		}
	}
	return 0
}

func (t *tones) burntShare() float64 { return float64(t.burnt) / float64(max(t.all, 1)) }

// checkLight says whether the object's edge or the mat is burnt out, or all too dark.
func (m ground) checkLight(edge []edgePoint, in Input, list *finding.List) {
	p := m.photo
	burnt, good := 0, 0
	for _, e := range edge {
		if !e.good {
			continue
		}
		q := r2.Sub(e.at, r2.Scale(burntDepth, e.out))
		x, y := int(math.Round(q.X)), int(math.Round(q.Y))
		if x < 0 || y < 0 || x >= p.w || y >= p.h {
			continue
		}
		good++
		if p.burnt(3 * (y*p.w + x)) {
			burnt++
		}
	}
	var all, mat tones
	for i, in := range m.region {
		if !in {
			continue
		}
		at := m.reduced.full(float64(i%m.reduced.w), float64(i/m.reduced.w))
		k := 3 * (int(at.Y)*p.w + int(at.X))
		all.add(p, k)
		if q := m.bare.ratio(i%m.reduced.w, i/m.reduced.w); max(q[0], q[1], q[2]) < muchLighter {
			mat.add(p, k)
		}
	}
	share := float64(burnt) / float64(max(good, 1))
	if bare := mat.burntShare(); share > burntEdge || bare > burntMat {
		list.Add(finding.New("photo-burnt", in.PhotoAt, finding.Args{
			"edge": rounded(100*share, 0), "mat": rounded(100*bare, 0),
		}))
	}
	if white := all.white(); white < darkWhite {
		list.Add(finding.New("photo-dark", in.PhotoAt, finding.Args{"share": rounded(100*white, 1)}))
	}
}

// checkShot says what is wrong with a shot in which an object's edge was found.
func (m ground) checkShot(ctx context.Context, edge []edgePoint, in Input, list *finding.List) error {
	m.checkLight(edge, in, list)
	sigma, ok, err := m.photo.blur(ctx)
	if err != nil {
		return err
	}
	if mm := sigma / m.scale / float64(m.reduced.n); ok && sigma > blurPx && mm > blurMM {
		list.Add(finding.New("photo-blurred", in.PhotoAt, finding.Args{
			"px": rounded(sigma, 1), "mm": finding.Fine(mm), "limit": finding.Number(blurPx),
		}))
	}
	return nil
}
