// Command hiddenlines measures the hidden lines of package solid and holds them
// to rays:
//
//	go run ./bench/hiddenlines [-runs 5] [-points 10000]
//
// First every scene of solidtest: of so many points along its lines, how many a
// ray says the same of, and at how many places where rays see something end there
// is no line. Then the time for 200,000 triangles; and, paired in the same run,
// the time and the result of looking at every triangle for every edge, on as many
// triangles as that can take.
package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"time"

	"scalewright/bench/machine"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func main() {
	runs := flag.Int("runs", 5, "runs of each, of which the median is printed")
	points := flag.Int("points", 10000, "points along the lines of each scene")
	flag.Parse()
	fmt.Println(machine.String())
	ctx := context.Background()
	err := rays(ctx, *points)
	if err == nil {
		err = times(ctx, *runs)
	}
	if err == nil {
		err = paired(ctx, *runs)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench hiddenlines:", err)
		os.Exit(1)
	}
}

func rays(ctx context.Context, points int) error {
	fmt.Printf("\n%-34s %9s %9s %8s %9s %9s\n", "scene", "points", "agree", "kept %", "outlines", "no line")
	worst := 1.0
	for _, scene := range solidtest.Scenes() {
		p, err := solid.Kernel{}.Project(ctx, scene.Solids, scene.View)
		if err != nil {
			return err
		}
		a := solidtest.NewRays(scene, p).Check(points, 100)
		fmt.Printf("%-34s %9d %8.2f%% %7.0f%% %9d %9d\n", scene.Name,
			a.Points, 100*a.Share(), 100*float64(a.Kept)/float64(a.Points), a.Outlines, a.Uncovered)
		worst = min(worst, a.Share())
	}
	fmt.Printf("worst %.2f%%\n", 100*worst)
	return nil
}

func times(ctx context.Context, runs int) error {
	tube, err := solid.Kernel{}.Subtract(ctx, solidtest.Tube(256, 190), solidtest.Drills()...)
	if err != nil {
		return err
	}
	every := solidtest.From
	every.Crease = 1e-5
	var apart []solid.Placed
	for i := range 10 {
		apart = append(apart, solid.Placed{
			ID: fmt.Sprint(i), Mesh: solidtest.Tube(128, 39), At: solid.Translation(solid.Vec{0, 0, 200 * float64(i)}),
		})
	}
	ball := one(solidtest.Sphere(158, 50, solid.Vec{}))
	fmt.Printf("\n%-34s %9s %7s %9s\n", "median of "+fmt.Sprint(runs), "triangles", "lines", "seconds")
	for _, c := range []struct {
		name   string
		view   solid.View
		placed []solid.Placed
	}{
		{"ball", solidtest.From, ball},
		{"ball, every edge drawn", every, ball},
		{"wavy tube less 100 cylinders", solidtest.From, one(tube)},
		{"the same, every edge drawn", every, one(tube)},
		{"ten tubes pulled apart", solid.Isometric(), apart},
		{"two balls through each other", solidtest.From, append(
			one(solidtest.Sphere(112, 50, solid.Vec{})),
			solid.Placed{ID: "b", Mesh: solidtest.Sphere(112, 50, solid.Vec{}), At: solid.Translation(solid.Vec{40, 20, 10})},
		)},
	} {
		var seconds []float64
		var lines, n int
		for range runs {
			start := time.Now()
			p, err := solid.Kernel{}.Project(ctx, c.placed, c.view)
			if err != nil {
				return err
			}
			seconds = append(seconds, time.Since(start).Seconds())
			lines = len(p.Lines)
		}
		for _, s := range c.placed {
			n += len(s.Mesh.Triangles)
		}
		fmt.Printf("%-34s %9d %7d %9.3f\n", c.name, n, lines, machine.Median(seconds))
	}
	return nil
}

// paired measures beside it the plain way: every triangle for every edge, on one
// processor.
func paired(ctx context.Context, runs int) error {
	fmt.Printf("\n%-34s %9s %9s %9s %9s %12s\n", "every edge of a torus, aslant", "triangles", "edges", "solid s", "plain s", "differ by")
	v := solidtest.From
	v.Crease = 1e-5
	for _, n := range []int{16, 32} {
		m := torus(n)
		var ours, plain []float64
		var hidden, slow float64
		var edges []solidtest.SlowEdge
		for range runs {
			start := time.Now()
			p, err := solid.Kernel{Workers: 1}.Project(ctx, one(m), v)
			if err != nil {
				return err
			}
			ours = append(ours, time.Since(start).Seconds())
			_, hidden = p.Length()
			start = time.Now()
			edges = solidtest.SlowEdges([]solid.Mesh{m}, p.Frame, v.Crease)
			solidtest.SlowCover(edges, m, p.Frame)
			plain = append(plain, time.Since(start).Seconds())
			slow = 0
			for _, e := range edges {
				slow += e.Hidden()
			}
		}
		fmt.Printf("%-34s %9d %9d %9.4f %9.4f %12.1e\n", "", len(m.Triangles), len(edges),
			machine.Median(ours), machine.Median(plain), math.Abs(hidden-slow)/slow)
	}
	return nil
}

func one(m solid.Mesh) []solid.Placed {
	return []solid.Placed{{ID: "a", Mesh: m, At: solid.Identity()}}
}

func torus(n int) solid.Mesh {
	var profile []solid.PointRZ
	for _, c := range solidtest.Circle(n) {
		profile = append(profile, solid.PointRZ{R: 40 + 12*c[0], Z: 12 * c[1]})
	}
	m, err := solid.Turn(profile, 2*n)
	if err != nil {
		panic(err) // only where the recipe is wrong
	}
	return m.Transform(solid.Rotation(solid.Vec{1, 2, 3}, 0.5))
}
