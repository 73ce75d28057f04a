// Corners finds the inner corners of the chessboards that Debian's package
// opencv-doc installs, and writes them for the tests of craft/camera:
//
//	go run ./bench/camera/corners > craft/camera/testdata/chessboards.json
//
// Where to look is taken from the poses that are published beside the pictures;
// where the corner is comes from the picture alone: the point that every
// gradient round about is square to (Förstner & Gülch, A fast operator for
// detection and precise location of distinct points, ISPRS Intercommission
// Conference, Interlaken, 1987, 281-305). Each is looked for again from a place
// two pixels off and must come to rest at the same.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"image"
	_ "image/jpeg"
	"log"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// The board, as its left_intrinsics.yml says.
const (
	columns, rows = 9, 6
	squareMM      = 25
)

// Boards is what is written.
type Boards struct {
	Source   string         `json:"source"`
	Width    int            `json:"width_px"`
	Height   int            `json:"height_px"`
	Columns  int            `json:"columns"`
	Rows     int            `json:"rows"`
	SquareMM float64        `json:"square_mm"`
	Views    [][][2]float64 `json:"views_px"` // row by row
}

func main() {
	dir := flag.String("data", installed, "where the pictures are")
	flag.Parse()
	out, err := find(*dir)
	if err == nil {
		err = json.NewEncoder(os.Stdout).Encode(out)
	}
	if err != nil {
		log.Fatal(err)
	}
}

// installed is where Debian puts the pictures.
const installed = "/usr/share/doc/opencv-doc/examples/data"

// find is the corners of all boards in a folder.
func find(dir string) (out Boards, err error) {
	told, err := os.ReadFile(filepath.Join(dir, "left_intrinsics.yml"))
	if err != nil {
		return out, err
	}
	lens, poses := numbers(string(told), "distortion_coefficients"), numbers(string(told), "extrinsic_parameters")
	k := numbers(string(told), "camera_matrix")
	out = Boards{
		Source:  "OpenCV samples/data left01.jpg to left14.jpg, Debian opencv-doc 4.6.0+dfsg-12; corners by bench/camera/corners",
		Columns: columns, Rows: rows, SquareMM: squareMM,
	}
	view := 0
	for n := 1; n <= 14; n++ {
		f, err := os.Open(filepath.Join(dir, fmt.Sprintf("left%02d.jpg", n)))
		if os.IsNotExist(err) {
			continue // there is no tenth
		} else if err != nil {
			return out, err
		}
		img, _, err := image.Decode(f)
		if err != nil {
			return out, err
		}
		if err := f.Close(); err != nil {
			return out, err
		}
		p := read(img)
		out.Width, out.Height = p.w, p.h
		var corners [][2]float64
		for j := range rows {
			for i := range columns {
				guess := project(k, lens, poses[6*view:6*view+6], r3.Vec{X: 0.025 * float64(i), Y: 0.025 * float64(j)})
				c, err := p.corner(guess)
				if err != nil {
					return out, fmt.Errorf("left%02d, corner %d of row %d: %w", n, i, j, err)
				}
				corners = append(corners, [2]float64{math.Round(1e4*c.X) / 1e4, math.Round(1e4*c.Y) / 1e4})
			}
		}
		out.Views = append(out.Views, corners)
		view++
	}
	return out, nil
}

// numbers reads the data of a matrix of OpenCV's file storage.
func numbers(text, name string) (out []float64) {
	_, text, _ = strings.Cut(text, name+":")
	_, text, _ = strings.Cut(text, "data: [")
	text, _, _ = strings.Cut(text, "]")
	for _, s := range regexp.MustCompile(`[-+.0-9e]+`).FindAllString(text, -1) {
		x, err := strconv.ParseFloat(s, 64)
		if err == nil {
			out = append(out, x)
		}
	}
	return out
}

// project is the published model: calib3d, "Detailed Description".
func project(k, d, pose []float64, at r3.Vec) r2.Vec {
	w := r3.Vec{X: pose[0], Y: pose[1], Z: pose[2]}
	q := r3.Add(r3.Rotate(at, r3.Norm(w), w), r3.Vec{X: pose[3], Y: pose[4], Z: pose[5]})
	x, y := q.X/q.Z, q.Y/q.Z
	rr := x*x + y*y
	g := 1 + rr*(d[0]+rr*(d[1]+rr*d[4]))
	u := x*g + 2*d[2]*x*y + d[3]*(rr+2*x*x)
	v := y*g + d[2]*(rr+2*y*y) + 2*d[3]*x*y
	return r2.Vec{X: k[0]*u + k[2], Y: k[4]*v + k[5]}
}

type picture struct {
	w, h int
	grey []float64
}

func read(img image.Image) picture {
	b := img.Bounds()
	p := picture{b.Dx(), b.Dy(), make([]float64, b.Dx()*b.Dy())}
	for y := range p.h {
		for x := range p.w {
			r, g, bl, _ := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			p.grey[y*p.w+x] = (0.299*float64(r) + 0.587*float64(g) + 0.114*float64(bl)) / 257
		}
	}
	return p
}

func (p *picture) at(x, y float64) float64 {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	s, t := x-float64(i), y-float64(j)
	g := p.grey[j*p.w+i:]
	return (1-t)*((1-s)*g[0]+s*g[1]) + t*((1-s)*g[p.w]+s*g[p.w+1])
}

// reach of the window about a corner, pixels: less than half of the smallest
// square, 14 px.
const reach = 5

// still is how near two searches must end, pixels.
const still = 0.01

// corner refines a guess, twice.
func (p *picture) corner(guess r2.Vec) (r2.Vec, error) {
	one, err := p.refine(guess)
	if err != nil {
		return one, err
	}
	two, err := p.refine(r2.Add(guess, r2.Vec{X: 1.4, Y: -1.4}))
	if err != nil {
		return one, err
	}
	if d := r2.Norm(r2.Sub(one, two)); d > still {
		return one, fmt.Errorf("two searches end %.3f px apart", d)
	}
	return one, nil
}

func (p *picture) refine(c r2.Vec) (r2.Vec, error) {
	start := c
	for range 100 {
		if !(c.X > reach+2 && c.Y > reach+2 && c.X < float64(p.w-reach-3) && c.Y < float64(p.h-reach-3)) {
			return c, fmt.Errorf("ran out of the picture")
		}
		var xx, xy, yy, bx, by float64
		for j := -reach; j <= reach; j++ {
			for i := -reach; i <= reach; i++ {
				dx, dy := float64(i), float64(j)
				x, y := c.X+dx, c.Y+dy
				gx, gy := (p.at(x+1, y)-p.at(x-1, y))/2, (p.at(x, y+1)-p.at(x, y-1))/2
				w := math.Exp(-(dx*dx + dy*dy) / (reach * reach))
				xx, xy, yy = xx+w*gx*gx, xy+w*gx*gy, yy+w*gy*gy
				bx, by = bx+w*gx*(gx*dx+gy*dy), by+w*gy*(gx*dx+gy*dy)
			}
		}
		det := xx*yy - xy*xy
		if det <= 0 {
			return c, fmt.Errorf("no corner at (%.1f, %.1f)", c.X, c.Y)
		}
		step := r2.Vec{X: (yy*bx - xy*by) / det, Y: (xx*by - xy*bx) / det}
		c = r2.Add(c, step)
		if r2.Norm(step) < still/100 {
			break
		}
	}
	if d := r2.Norm(r2.Sub(c, start)); d > reach {
		return c, fmt.Errorf("went %.1f px", d)
	}
	return c, nil
}
