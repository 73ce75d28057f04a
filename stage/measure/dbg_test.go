package measure

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"testing"
	"time"

	"scalewright/craft/camera"
	"scalewright/finding"
)

func TestDbg(t *testing.T) {
	name := os.Getenv("PHOTO")
	photo, err := os.ReadFile(name)
	if err != nil {
		t.Skip()
	}
	ctx := t.Context()
	p, err := decode(ctx, photo)
	if err != nil {
		t.Fatal(err)
	}
	var list finding.List
	printed, ok, err := marksFor(ctx, p, Input{Photo: photo}, &list)
	if !ok {
		t.Fatal(list)
	}
	fit, err := camera.Fit(printed.marks, printed.known(p))
	if err != nil {
		t.Fatal(err)
	}
	region := regionOf(&fit.Camera, nil, printed.marks)
	m, err := findGround(ctx, p, &fit.Camera, region, printed.steps(&fit))
	if err != nil {
		t.Fatal(err)
	}
	m.ticks = printed.ticks
	kinds, _ := classify(ctx, m.bare, m.region, otherColour)
	r := m.reduced
	img := image.NewRGBA(image.Rect(0, 0, r.w, r.h))
	for i, k := range kinds {
		c := color.RGBA{60, 60, 60, 255}
		switch k {
		case lighter:
			c = color.RGBA{255, 255, 255, 255}
		case darker:
			c = color.RGBA{0, 0, 0, 255}
		case coloured:
			c = color.RGBA{255, 0, 0, 255}
		}
		if !m.region[i] {
			c = color.RGBA{0, 0, 90, 255}
		}
		img.SetRGBA(i%r.w, i/r.w, c)
	}
	pp := patch{x0: 2, y0: 2, w: r.w - 4, h: r.h - 4}
	ss, _ := m.sureMat(pp)
	for i, s := range ss {
		if s {
			img.SetRGBA(2+i%pp.w, 2+i/pp.w, color.RGBA{0, 0, 255, 255})
		}
	}
	objs, _ := m.objects(ctx)
	for k, g := range objs {
		fmt.Println("object", k, g.count())
	}
	if len(objs) > 0 {
		began := time.Now()
		g, _ := m.cut(ctx, trimLines(r, objs[0], m.cam, m.pitch))
		fmt.Println("object cut", time.Since(began))
		for i, on := range g.on {
			if on {
				c := img.RGBAAt(i%r.w, i/r.w)
				c.G = 200
				img.SetRGBA(i%r.w, i/r.w, c)
			}
		}
		edge, ok, _ := m.edgeOf(ctx, g)
		good := 0
		for _, e := range edge {
			if e.good {
				good++
			}
		}
		fmt.Println("edge", len(edge), good, ok)
		big := image.NewRGBA(image.Rect(0, 0, p.w, p.h))
		for i := range p.w * p.h {
			big.SetRGBA(i%p.w, i/p.w, color.RGBA{p.rgb[3*i], p.rgb[3*i+1], p.rgb[3*i+2], 255})
		}
		for _, e := range edge {
			c := color.RGBA{0, 255, 0, 255}
			if !e.good {
				c = color.RGBA{255, 0, 0, 255}
			}
			for d := range 4 {
				big.SetRGBA(int(e.at.X)+d%2, int(e.at.Y)+d/2, c)
			}
		}
		ff, _ := os.Create("/tmp/sw/edge.png")
		png.Encode(ff, big)
		ff.Close()
	}
	f, _ := os.Create("/tmp/sw/dbg.png")
	png.Encode(f, img)
	f.Close()
}
