//go:build heic

package measure

import (
	"math"
	"os"
	"testing"

	"scalewright/internal/photograph"
)

// A high efficiency photograph is read pixel for pixel: drawn37.heic is the drawn scene
// of seed 37, 1000 pixels wide, as libheif 1.15.1 wrote it (convert -auto-orient -quality 45).
func TestHEIC(t *testing.T) {
	data, err := os.ReadFile("testdata/drawn37.heic")
	if err != nil {
		t.Fatal(err)
	}
	got, err := decode(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	photo, _, err := photograph.Seeded(37).Sized(1000).Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want, err := decode(t.Context(), photo)
	if err != nil {
		t.Fatal(err)
	}
	if got.w != want.w || got.h != want.h {
		t.Fatalf("%d × %d, want %d × %d", got.w, got.h, want.w, want.h)
	}
	// Least where the two lie over each other.
	lies := apart(got, want, func(x, y int) (int, int) { return x, y })
	for name, where := range map[string]func(x, y int) (int, int){
		"a pixel to the right": func(x, y int) (int, int) { return x + 1, y },
		"a pixel down":         func(x, y int) (int, int) { return x, y + 1 },
		"half a turn":          func(x, y int) (int, int) { return got.w - 1 - x, got.h - 1 - y },
	} {
		if other := apart(got, want, where); lies > 0.8*other {
			t.Errorf("differs from the drawn picture by %.1f grey steps rms, %s from it by %.1f", lies, name, other)
		}
	}
	if lies > 12 {
		t.Errorf("differs from the drawn picture by %.1f grey steps rms", lies)
	}
	if _, err := decode(t.Context(), data[:len(data)/3]); err == nil {
		t.Error("a file cut short is read")
	}
}

// apart is how much two pictures differ, grey steps rms, one read elsewhere.
func apart(p, q *picture, where func(x, y int) (int, int)) float64 {
	ss, n := 0.0, 0
	for y := range p.h - 1 {
		for x := range p.w - 1 {
			u, v := where(x, y)
			for c := range 3 {
				d := float64(p.rgb[3*(y*p.w+x)+c]) - float64(q.rgb[3*(v*q.w+u)+c])
				ss, n = ss+d*d, n+1
			}
		}
	}
	return math.Sqrt(ss / float64(n))
}
