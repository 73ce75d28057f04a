package solid_test

import (
	"crypto/sha256"
	"fmt"
	"runtime"
	"testing"

	"scalewright/solid"
)

// Law 4: the same input gives the same bits, at any number of cores and, since
// maps are involved, in any run of the program.
func TestSameBits(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	sum := func() [32]byte {
		h := sha256.New()
		m := solid.Join(torus(50, 10, 24, 60), frameSolid(), tube(30, 20, 40, 36).Translate(solid.Vec{200, 0, 0}))
		for _, p := range []solid.Plane{
			{Normal: solid.Vec{1, 2, 3}, Offset: 4},
			solid.PlaneZ(0), solid.PlaneZ(3),
			{Normal: solid.Vec{0, 1, 0}, Offset: 7},
			{Normal: solid.Vec{0, 1, 0}, Offset: 5},
		} {
			above, below, err := solid.Cut(m, p)
			if err != nil {
				t.Fatal(err)
			}
			s := must(solid.Section(m, p))
			fmt.Fprintf(h, "%x %x %x %x", above, below, s, above.Mass())
		}
		return [32]byte(h.Sum(nil))
	}
	want := sum()
	for _, n := range []int{1, 8, 1, 8} {
		runtime.GOMAXPROCS(n)
		if got := sum(); got != want {
			t.Fatalf("with %d cores the bits differ", n)
		}
	}
}
