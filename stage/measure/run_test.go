package measure_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"runtime"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/measure"
)

// blank is a plain mat with nothing on it.
func blank(t *testing.T, w, h int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = []uint8{20, 90, 60, 255}[i%4]
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// square is marks at the corners and edges of a mat filling most of a picture.
func square(w, h float64) (out model.Marks) {
	out.PitchMM = 10
	for i := range 3 {
		for j := range 3 {
			out.Marks = append(out.Marks, model.Mark{
				Pixel: [2]float64{w * (0.1 + 0.4*float64(i)), h * (0.9 - 0.4*float64(j))},
				Mat:   [2]float64{100 * float64(i), 75 * float64(j)},
			})
		}
	}
	return out
}

func TestRunRefuses(t *testing.T) {
	photo := blank(t, 800, 600)
	good := square(800, 600)
	line := model.Marks{PitchMM: 10}
	for i := range 5 {
		x := float64(i)
		line.Marks = append(line.Marks, model.Mark{Pixel: [2]float64{100 * x, 80 * x}, Mat: [2]float64{20 * x, 10 * x}})
	}
	mirrored, twice, nan := square(800, 600), square(800, 600), square(800, 600)
	for i := range mirrored.Marks {
		mirrored.Marks[i].Mat[0] = 300 - mirrored.Marks[i].Mat[0]
	}
	twice.Marks[1] = twice.Marks[0]
	nan.Marks[2].Pixel[0] = math.NaN()
	heic := append([]byte{0, 0, 0, 24}, []byte("ftypheic0000mif1")...)
	for _, tt := range []struct {
		name string
		in   measure.Input
		want finding.Code
	}{
		{"1x1", measure.Input{Photo: blank(t, 1, 1), Marks: good}, "photo-too-small"},
		{"empty", measure.Input{Marks: good}, "photo-unreadable"},
		{"text", measure.Input{Photo: []byte("not a picture at all"), Marks: good}, "photo-unreadable"},
		{"cut short", measure.Input{Photo: photo[:len(photo)/2], Marks: good}, "photo-unreadable"},
		{"heic", measure.Input{Photo: heic, Marks: good}, "photo-heic"},
		{"no marks and no grid", measure.Input{Photo: photo}, "grid-not-found"},
		{"three marks", measure.Input{Photo: photo, Marks: model.Marks{Marks: good.Marks[:3]}}, "marks-too-few"},
		{"line", measure.Input{Photo: photo, Marks: line}, "marks-on-a-line"},
		{"mirrored", measure.Input{Photo: photo, Marks: mirrored}, "marks-mirrored"},
		{"twice", measure.Input{Photo: photo, Marks: twice}, "marks-coincide"},
		{"not a number", measure.Input{Photo: photo, Marks: nan}, "marks-not-numbers"},
		{"nothing there", measure.Input{Photo: photo, Marks: good}, "silhouette-lost"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, list, err := measure.Run(t.Context(), tt.in)
			if err != nil {
				t.Fatal(err)
			}
			found := false
			for _, f := range list {
				found = found || f.Code == tt.want && f.Severity == finding.Blocker
			}
			if !found || !r.Lost {
				t.Errorf("Run(%s) = lost %v, findings %v, want blocker %s", tt.name, r.Lost, list, tt.want)
			}
			if _, err := json.Marshal(r); err != nil {
				t.Errorf("the result of %s does not marshal: %v", tt.name, err)
			}
		})
	}
}

func TestRunCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, _, err := measure.Run(ctx, measure.Input{Photo: blank(t, 800, 600), Marks: square(800, 600)})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("Run with a cancelled context = %v", err)
	}
}

// peg draws a light cylinder 120 long and 20 across, level on a green mat 400 mm
// below a camera that looks straight down, by its closed form.
func peg(t *testing.T) (photo []byte, marks model.Marks, radius, length float64) {
	t.Helper()
	const w, h, f, high, r, half = 800, 600, 800.0, 400.0, 10.0, 60.0
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	inside := func(x, y float64) bool {
		// The ray through the pixel against the cylinder along X at height r.
		dx, dy := (x-(w-1)/2.0)/f, (y-(h-1)/2.0)/f
		// Across: nearest distance of the ray to the axis is r on the outline.
		if math.Abs(dy)*(high-r)/math.Hypot(1, dy) > r {
			return false
		}
		// Along: where the ray enters the cylinder.
		b, c := (high-r)/(1+dy*dy), ((high-r)*(high-r)-r*r)/(1+dy*dy)
		enter := b - math.Sqrt(max(0, b*b-c))
		return math.Abs(dx*enter) < half
	}
	for y := range h {
		for x := range w {
			n := 0.0
			if math.Abs(float64(x)-w/2.0) < 150 && math.Abs(float64(y)-h/2.0) < 40 {
				for k := range 64 {
					if inside(float64(x)+(float64(k%8)-3.5)/8, float64(y)+(float64(k/8)-3.5)/8) {
						n++
					}
				}
			}
			// Light mixes linearly; the file holds the sRGB curve (IEC 61966-2-1).
			mix := func(a, b float64) uint8 {
				v := a + (b-a)*n/64
				if v <= 0.0031308 {
					return uint8(math.Round(255 * 12.92 * v))
				}
				return uint8(math.Round(255 * (1.055*math.Pow(v, 1/2.4) - 0.055)))
			}
			m.Set(x, y, color.RGBA{mix(0.02, 0.6), mix(0.15, 0.6), mix(0.06, 0.55), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 97}); err != nil {
		t.Fatal(err)
	}
	marks.PitchMM = 10
	for i := -1; i <= 1; i++ {
		for j := -1; j <= 1; j++ {
			X, Y := 140*float64(i), 100*float64(j)
			marks.Marks = append(marks.Marks, model.Mark{
				Pixel: [2]float64{f*X/high + (w-1)/2.0, -f*Y/high + (h-1)/2.0}, Mat: [2]float64{X, Y},
			})
		}
	}
	return b.Bytes(), marks, r, 2 * half
}

// A picture whose every dimension is known in closed form; the same bytes on one
// core and on eight; and seen from the other end when the datum is there.
func TestPeg(t *testing.T) {
	photo, marks, radius, length := peg(t)
	run := func(cores int, datum string, flat bool) measure.Result {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: marks, Datum: datum, Flat: flat})
		if err != nil || r.Lost {
			t.Fatalf("lost %v, %v, %v", r.Lost, list, err)
		}
		return r
	}
	r := run(1, "", false)
	for _, p := range r.Profile {
		if p.Station > 3 && p.Station < length-3 && (math.Abs(p.Radius-radius) > 0.1 || math.Abs(p.Radius-radius) > 3*p.U) {
			t.Errorf("radius at %.1f = %.3f ± %.3f, want %v", p.Station, p.Radius, p.U, radius)
		}
	}
	// No EXIF: the lens, hence the camera's height, is open, and the doubt says so.
	if e := math.Abs(r.Length.Value - length); e > 2*r.Length.U {
		t.Errorf("length %.3f ± %.3f, want %v", r.Length.Value, r.Length.U, length)
	}
	if len(r.Trace.Outline) == 0 || math.Abs(r.Trace.Outline.MaxRadius()-radius) > 0.2 {
		t.Errorf("outline %v", r.Trace.Outline)
	}
	// Who asks for flat outlines besides gets the same body.
	flat := run(8, "left", true)
	flat.Outlines = r.Outlines
	one, err1 := json.Marshal(r)
	eight, err2 := json.Marshal(flat)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one, eight) {
		t.Errorf("one core gives %d bytes, eight give %d, not the same", len(one), len(eight))
	}
	other := run(2, "right", false)
	if math.Abs(other.Length.Value-r.Length.Value) > 1e-9 || math.Abs(other.Axis.StartMM-r.Axis.EndMM) > 1e-9 {
		t.Errorf("from the right: length %v, axis %v; from the left: %v, %v", other.Length, other.Axis, r.Length, r.Axis)
	}
}

func FuzzPhoto(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xe0"))
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Add([]byte("II*\x00\x08\x00\x00\x00"))
	f.Add([]byte("RIFF\x00\x00\x00\x00WEBPVP8 "))
	marks := square(800, 600)
	f.Fuzz(func(t *testing.T, photo []byte) {
		if _, _, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: marks}); err != nil {
			t.Errorf("a damaged photograph is a finding, not %v", err)
		}
	})
}
