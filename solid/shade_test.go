package solid_test

import (
	"bytes"
	"context"
	"errors"
	"image/color"
	"math"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func shade(t testing.TB, v solid.View, o solid.ShadeOptions, placed ...solid.Placed) solid.Raster {
	t.Helper()
	r, err := kernel.Shade(context.Background(), placed, v, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// frameOf is a raster of the whole of some lines, so many pixels a millimetre.
func frameOf(p solid.Projection, scale float64) solid.ShadeOptions {
	low, high, _ := p.Bounds()
	o := solid.ShadeOptions{Low: low, Width: int(math.Ceil((high[0] - low[0]) * scale)), Height: int(math.Ceil((high[1] - low[1]) * scale))}
	o.High = solid.Point{low[0] + float64(o.Width)/scale, low[1] + float64(o.Height)/scale}
	return o
}

// A ball covers πr², and is as bright as the cosine to the light makes it: by
// Lambert's law the place that looks along the light has all of it.
func TestShadeBall(t *testing.T) {
	ball := at("ball", must(solid.Sphere(solid.Vec{}, 50, 48)))
	up := solid.View{Eye: solid.Vec{0, 0, 1}}
	o := solid.ShadeOptions{Width: 120, Height: 120, Low: solid.Point{-60, -60}, High: solid.Point{60, 60}}
	r := shade(t, up, o, ball)
	covered := 0.0
	for _, c := range r.Cover {
		covered += float64(c) / 255
	}
	if want := math.Pi * 2500; !near(covered, want, 2e-3) {
		t.Errorf("covers %g mm², want %g", covered, want)
	}
	light := solid.UpperLeft().Unit()
	for y := range 120 {
		for x := range 120 {
			px, py := float64(x)-59.5, 59.5-float64(y)
			rest := 2500 - px*px - py*py
			if rest < 200 {
				continue // the rim, where a pixel has many normals
			}
			n := solid.Vec{px / 50, py / 50, math.Sqrt(rest) / 50}
			want := 255 * (0.35 + 0.65*max(0, n.Dot(light)))
			if got := float64(r.Light[y*120+x]); math.Abs(got-want) > 3 {
				t.Fatalf("at %g, %g the light is %g, want %g", px, py, got, want)
			}
		}
	}
	// Flat, every pixel well inside a triangle has the shade of one of them.
	o.Flat = true
	if flat := shade(t, up, o, ball); bytes.Equal(flat.Light, r.Light) || !bytes.Equal(flat.Cover, r.Cover) {
		t.Error("flat shades are as soft ones, or cover something else")
	}
}

// Of a cube three shades are seen, each as far from the light as its face; soft
// shading doesn't round its edges. A solid before another covers it.
func TestShadeCube(t *testing.T) {
	cube := at("cube", box(0, 0, 0, 20, 20, 20))
	p := project(t, solid.Isometric(), cube)
	o := frameOf(p, 4)
	r := shade(t, solid.Isometric(), o, cube)
	shades := map[uint8]int{}
	for i, l := range r.Light {
		if r.Cover[i] == 255 {
			shades[l]++
		}
	}
	main := 0
	for _, n := range shades {
		if n > len(r.Light)/8 {
			main++
		}
	}
	if main != 3 {
		t.Errorf("a cube has %d shades: %v", main, shades)
	}
	lid := solid.Placed{ID: "lid", Mesh: box(0, 0, 0, 20, 20, 20), At: solid.Translation(solid.Vec{-9, 9, -9})}
	if both := shade(t, solid.Isometric(), o, lid, cube); !bytes.Equal(both.Light, r.Light) {
		t.Error("what lies straight behind the cube is seen")
	}
	img := r.Image(color.White, color.Black)
	if img.Bounds().Dx() != o.Width || img.NRGBAAt(0, 0).A != 0 || img.NRGBAAt(o.Width/2, o.Height/2).A != 255 {
		t.Errorf("the picture is %v, clear at the corner %v", img.Bounds(), img.NRGBAAt(0, 0))
	}
}

// Where the lines end the shade ends: every pixel that is covered in part lies on
// a silhouette that is seen, and along those no pixel is without cover.
func TestShadeKeepsToTheLines(t *testing.T) {
	for _, scene := range solidtest.Scenes() {
		p := project(t, scene.View, scene.Solids...)
		o := frameOf(p, 1)
		o.Width, o.Height = o.Width+2, o.Height+2
		o.Low = solid.Point{o.Low[0] - 1, o.Low[1] - 1}
		o.High = solid.Point{o.High[0] + 1, o.High[1] + 1}
		r := shade(t, scene.View, o, scene.Solids...)
		lined := make([]bool, o.Width*o.Height)
		for _, l := range p.Visible() {
			for i := 1; i < len(l.Points); i++ {
				a, b := l.Points[i-1], l.Points[i]
				steps := 1 + int(4*math.Hypot(b[0]-a[0], b[1]-a[1]))
				for s := range steps + 1 {
					w := float64(s) / float64(steps)
					x := int(a[0] + w*(b[0]-a[0]) - o.Low[0])
					y := int(o.High[1] - a[1] - w*(b[1]-a[1]))
					for dy := -1; dy <= 1; dy++ {
						for dx := -1; dx <= 1; dx++ {
							if cx, cy := x+dx, y+dy; cx >= 0 && cy >= 0 && cx < o.Width && cy < o.Height {
								lined[cy*o.Width+cx] = true
							}
						}
					}
				}
			}
		}
		for i, c := range r.Cover {
			if c > 0 && c < 255 && !lined[i] {
				t.Errorf("%s: pixel %d, %d is covered in part and no line is near", scene.Name, i%o.Width, i/o.Width)
				break
			}
		}
	}
}

func TestShadeRefuses(t *testing.T) {
	good := solid.ShadeOptions{Width: 10, Height: 10, High: solid.Point{1, 1}}
	for name, change := range map[string]func(*solid.ShadeOptions){
		"no width":         func(o *solid.ShadeOptions) { o.Width = 0 },
		"height too large": func(o *solid.ShadeOptions) { o.Height = 1 << 20 },
		"no rectangle":     func(o *solid.ShadeOptions) { o.High = o.Low },
		"not a number":     func(o *solid.ShadeOptions) { o.Low[1] = math.NaN() },
		"samples":          func(o *solid.ShadeOptions) { o.Samples = 17 },
		"light":            func(o *solid.ShadeOptions) { o.Light = solid.Vec{math.Inf(1), 0, 0} },
	} {
		o := good
		change(&o)
		var value *solid.ValueError
		if _, err := kernel.Shade(context.Background(), nil, solid.Isometric(), o); !errors.As(err, &value) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	if r := shade(t, solid.Isometric(), good); !bytes.Equal(r.Cover, make([]byte, 100)) {
		t.Error("of nothing something is seen")
	}
	// A corner that lies far outside of the raster costs nothing and breaks nothing.
	far := solid.Placed{ID: "far", Mesh: box(-1e9, -1e9, -1e9, 1e9, 1e9, 1e9), At: solid.Identity()}
	for _, c := range shade(t, solid.Isometric(), good, far).Cover {
		if c != 255 {
			t.Fatalf("inside of a large box a pixel is covered %d of 255", c)
		}
	}
}

func TestShadeSameBitsAndStops(t *testing.T) {
	ball := solidtest.Sphere(48, 50, solid.Vec{})
	placed := []solid.Placed{at("a", ball), {ID: "b", Mesh: ball, At: solid.Translation(solid.Vec{30, 0, 0})}}
	o := solid.ShadeOptions{Width: 200, Height: 150, Low: solid.Point{-60, -60}, High: solid.Point{100, 60}}
	var want solid.Raster
	for i, workers := range []int{1, 3, 8} {
		r, err := solid.Kernel{Workers: workers}.Shade(context.Background(), placed, solidtest.From, o)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			want = r
		}
		if !bytes.Equal(r.Light, want.Light) || !bytes.Equal(r.Cover, want.Cover) {
			t.Errorf("with %d workers another picture", workers)
		}
	}
	stopEverywhere(t, 4, func(ctx context.Context, k solid.Kernel) error {
		_, err := k.Shade(ctx, placed, solidtest.From, o)
		return err
	})
}
