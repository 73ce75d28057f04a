package camera_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// A mat printed 2 % small, its grid and a ruler found in the photograph: the
// ruler is believed.
func ExampleFit() {
	seen := above(2253, 500, 0.08, 0.05, 0.3)
	var marks []camera.Mark
	for _, printed := range board(20, 14) {
		px, _ := seen.Project(r3.Vec{X: 0.98 * printed.X, Y: 0.98 * printed.Y})
		marks = append(marks, camera.Mark{Px: px, Mm: printed})
	}
	known := camera.Known{Width: 3000, Height: 2250, F35: 26, Sigma: 0.1}
	for at := 0.0; at <= 200; at += 10 {
		px, _ := seen.Project(r3.Vec{X: 100 + at, Y: 40, Z: 1})
		known.Ticks = append(known.Ticks, camera.Tick{Px: px, At: at})
	}
	fit, err := camera.Fit(marks, known)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a printed millimetre is %.3f ± %.3f mm\n", fit.Scale[0], 2*fit.ScaleDoubt[0])
	at := fit.True(r2.Vec{X: 300})
	fmt.Printf("the crossing at 300 lies at %.0f mm, %.0f mm below the camera\n", at.X, fit.Height())
	// Output:
	// a printed millimetre is 0.980 ± 0.002 mm
	// the crossing at 300 lies at 294 mm, 500 mm below the camera
}

// One tilted photograph beside a square one tells the focal length that the square
// one cannot.
func ExampleFitAll() {
	var views [][]camera.Mark
	for _, tilt := range []float64{0.01, 0.4} {
		seen := above(2280, 500, tilt, tilt/4, 0.2)
		var marks []camera.Mark
		for _, printed := range board(20, 14) {
			px, _ := seen.Project(r3.Vec{X: printed.X, Y: printed.Y})
			marks = append(marks, camera.Mark{Px: px, Mm: printed})
		}
		views = append(views, marks)
	}
	known := camera.Known{Width: 3000, Height: 2250, F35: 26, Sigma: 0.1}
	alone, err := camera.Fit(views[0], known)
	if err != nil {
		fmt.Println(err)
		return
	}
	together, err := camera.FitAll(views, known)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("alone %.0f px, together %.0f px\n", alone.F, together[0].F)
	// Output:
	// alone 2253 px, together 2280 px
}
