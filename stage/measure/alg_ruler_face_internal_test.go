package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// A ruler's face ends where its colour ends, whatever lies on it and however few of
// its rows of ticks were read; and where the table has its colour too, a little past
// the ticks.
func TestFaceOf(t *testing.T) {
	cam := camera.Camera{F: 1000, Cx: 400, Cy: 300, C: r3.Vec{Z: 400}, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}}
	const x0, x1, y0, y1 = -105, 105, -20, 8 // of the ruler
	// What lies beside it: a dark object over half of it, or a table or an object like it.
	scene := func(object, table, twin bool) *picture {
		p := &picture{w: 800, h: 600, rgb: make([]uint8, 3*800*600)}
		for i := range 800 * 600 {
			q, _ := cam.OnPlane(r2.Vec{X: float64(i % 800), Y: float64(i / 800)}, 0)
			c := [3]uint8{60, 110, 70}
			switch shade := uint8(8 * q.X / 100); {
			case object && q.X > -60 && q.X < 70 && q.Y > -4 && q.Y < 30:
				c = [3]uint8{40, 30, 30}
			case q.X > x0 && q.X < x1 && q.Y > y0 && q.Y < y1, table && q.X >= x1, twin && q.X > -50 && q.X < 40 && q.Y > -4 && q.Y < 40:
				c = [3]uint8{200 + shade, 200 + shade, 205 + shade}
			}
			copy(p.rgb[3*i:], c[:])
		}
		return p
	}
	for _, tt := range []struct {
		name                string
		object, table, twin bool
		rows                [2]float64 // Y of the ticks' middles
		past                float64    // X of the face's end
		last                float64    // X of the last tick that was read
	}{
		{"bare", false, false, false, [2]float64{6.4, -18.4}, x1, 100},
		{"an object over half of it", true, false, false, [2]float64{6.4, -18.4}, x1, 100},
		{"one row, the object over the other", true, false, false, [2]float64{-18.4, -18.4}, x1, 100},
		{"a table like it", false, true, false, [2]float64{6.4, -18.4}, 100 + rulerEnd, 100},
		{"ticks too fine to read", false, false, false, [2]float64{6.4, -18.4}, x1, 20},
		{"an object of its colour beside it", false, false, true, [2]float64{6.4, -18.4}, x1, 100},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := ground{photo: scene(tt.object, tt.table, tt.twin), cam: &cam, bare: evenMat(60, 110, 70)}
			lo, hi := min(tt.rows[0], tt.rows[1]), max(tt.rows[0], tt.rows[1])
			f, _ := m.faceOf(strip{
				at: r2.Vec{X: -100}, along: r2.Vec{X: 1}, across: r2.Vec{Y: 1},
				lo: r2.Vec{Y: lo}, hi: r2.Vec{X: tt.last + 100, Y: hi},
			})
			for _, c := range []struct {
				name      string
				got, want float64
				off       float64
			}{
				{"begins", f.lo.X - 100, x0, 2.5},
				{"ends", f.hi.X - 100, tt.past, 2.5},
				{"lower edge", f.lo.Y, y0, 1},
				{"upper edge", f.hi.Y, y1, 1},
			} {
				if math.Abs(c.got-c.want) > c.off {
					t.Errorf("%s at %.1f mm, want %.1f", c.name, c.got, c.want)
				}
			}
		})
	}
}

// evenMat is bare mat of one colour, by the values of an 800 × 600 file.
func evenMat(rgb ...uint8) *background {
	b := &background{r: &reduced{w: 800, h: 600, n: 1}}
	for c, v := range rgb {
		b.coef[c][0] = math.Log(float64(linear()[v]) + lightFloor)
	}
	return b
}
