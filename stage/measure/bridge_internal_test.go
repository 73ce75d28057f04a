package measure

import "testing"

// Two pieces on both sides of a ruler are one object where they run on across it, and two
// where they do not.
func TestBridge(t *testing.T) {
	const w, h = 300, 200
	rect := func(x0, y0, x1, y1 int) grid {
		g := grid{w, h, make([]bool, w*h)}
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				g.on[y*w+x] = true
			}
		}
		return g
	}
	ruler := rect(130, 0, 180, h)
	at := func(g grid, x, y int) bool { return g.on[y*w+x] }
	for _, tt := range []struct {
		name   string
		piece  grid
		joined bool
	}{
		{"goes on", rect(182, 90, 280, 110), true},
		{"beside it", rect(182, 10, 280, 30), false},
		{"ends before the ruler", rect(200, 90, 280, 110), false},
		{"on the same side", rect(90, 130, 128, 150), false},
	} {
		m := ground{reduced: &reduced{w: w, h: h, n: 1}, scale: 2, thin: 1, faces: [][]bool{ruler.on}}
		all := m.bridged([]grid{rect(20, 88, 128, 112), tt.piece})
		if got := len(all) == 1; got != tt.joined {
			t.Errorf("%s: joined %v", tt.name, got)
			continue
		}
		if !tt.joined {
			continue
		}
		if g := all[0]; !at(g, 155, 100) || !at(g, 25, 100) || !at(g, 275, 100) || at(g, 155, 60) {
			t.Errorf("%s: the joined object is not what lies on both sides and between", tt.name)
		}
		if m.beside[100*w+155] || !m.beside[60*w+155] || m.beside[100*w+100] {
			t.Errorf("%s: what of the ruler lies beside the object is not told", tt.name)
		}
	}
	var none ground
	if got := none.bridged([]grid{rect(0, 0, 5, 5)}); len(got) != 1 {
		t.Error("one object alone")
	}
}
