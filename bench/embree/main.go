// Command embree measures the wall thickness of every triangle, tree and rays,
// beside Embree (a general-purpose ray-tracing library, in float32 and with the
// vector instructions of the processor) on the same mesh and the same rays in
// the same run, both at two threads:
//
//	apt-get install libembree-dev gcc
//	go run ./bench/embree [-runs 5] [-threads 2] [-n 256]
//
// The mesh is a wavy tube less a hundred cylinders in one operation. Where a C
// compiler or the library is missing it says so and measures package solid alone.
package main

import (
	"bufio"
	"context"
	"encoding/binary"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"scalewright/bench/machine"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func main() {
	runs := flag.Int("runs", 5, "runs of each, of which the median is printed")
	threads := flag.Int("threads", 2, "threads of each")
	n := flag.Int("n", 256, "half the points round the tube: 256 is the recipe")
	flag.Parse()
	if err := run(context.Background(), *runs, *threads, *n); err != nil {
		fmt.Fprintln(os.Stderr, "bench embree:", err)
		os.Exit(1)
	}
}

// figures are what one run of either says.
type figures struct {
	build, rays   float64 // seconds
	min, p50, p99 float64 // mm
	measured      int
}

func run(ctx context.Context, runs, threads, n int) error {
	m, err := solid.Kernel{}.Subtract(ctx, solidtest.Tube(2*n, 200), solidtest.Drills()...)
	if err != nil {
		return err
	}
	fmt.Printf("%s\nwall thickness of %d triangles, %d threads, median of %d\n", machine.String(), len(m.Triangles), threads, runs)
	dir, err := os.MkdirTemp("", "rays")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	rival := filepath.Join(dir, "rays")
	cc := exec.CommandContext(ctx, "cc", "-O3", "-march=native", "-o", rival, "bench/embree/native/rays.c", "-lembree3", "-lpthread", "-lm")
	_, missing := cc.CombinedOutput()
	dump := filepath.Join(dir, "dump")
	if err := write(dump, m); err != nil {
		return err
	}
	var ours, theirs []figures
	for range runs {
		f, err := measure(ctx, m, threads)
		if err != nil {
			return err
		}
		ours = append(ours, f)
		if missing != nil {
			continue
		}
		if f, err = ask(ctx, rival, dump, threads); err != nil {
			return err
		}
		theirs = append(theirs, f)
	}
	print := func(name string, all []figures) (total float64) {
		var build, rays []float64
		for _, f := range all {
			build, rays = append(build, f.build), append(rays, f.rays)
		}
		b, r, f := machine.Median(build), machine.Median(rays), all[0]
		fmt.Printf("%-8s tree %.3f s, rays %.3f s, both %.3f s; least %.9g, p50 %.9g, p99 %.9g mm of %d\n",
			name, b, r, b+r, f.min, f.p50, f.p99, f.measured)
		return b + r
	}
	solids := print("solid", ours)
	if missing != nil {
		fmt.Println("Embree is not here (libembree-dev and a C compiler are needed): not paired.")
		fmt.Println("On a quiet AMD EPYC of two cores it took 0.14 s for both at two threads.")
		return nil
	}
	fmt.Printf("ratio    %.2f\n", solids/print("Embree", theirs))
	return nil
}

// measure runs package solid once. The thickness is measured with its tree; the
// tree is built once more before, to tell the two apart.
func measure(ctx context.Context, m solid.Mesh, threads int) (figures, error) {
	k := solid.Kernel{Workers: threads}
	start := time.Now()
	if _, err := k.Tree(ctx, m); err != nil {
		return figures{}, err
	}
	built := time.Since(start).Seconds()
	start = time.Now()
	th, err := k.Thickness(ctx, m, solid.ThicknessOptions{})
	both := time.Since(start).Seconds()
	return figures{built, both - built, th.Ray.Min, th.Ray.P50, th.Ray.P99, th.Ray.Measured}, err
}

// ask runs Embree once.
func ask(ctx context.Context, rival, dump string, threads int) (f figures, err error) {
	out, err := exec.CommandContext(ctx, rival, dump, fmt.Sprint(threads)).Output()
	if err != nil {
		return f, fmt.Errorf("run rays: %w", err)
	}
	_, err = fmt.Sscan(string(out), &f.build, &f.rays, &f.min, &f.p50, &f.p99, &f.measured)
	return f, err
}

// write makes the dump that native/rays.c reads.
func write(path string, m solid.Mesh) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer file.Close()
	w := bufio.NewWriter(file)
	put := func(x any) {
		if err == nil {
			err = binary.Write(w, binary.LittleEndian, x)
		}
	}
	single := func(v solid.Vec) [3]float32 { return [3]float32{float32(v[0]), float32(v[1]), float32(v[2])} }
	put([2]int64{int64(len(m.Vertices)), int64(len(m.Triangles))})
	for _, v := range m.Vertices {
		put(single(v))
	}
	put(m.Triangles)
	for _, f := range m.Triangles {
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		put(single(a.Add(b).Add(c).Scale(1.0 / 3)))
		put(single(b.Sub(a).Cross(c.Sub(a)).Unit().Scale(-1)))
	}
	if err != nil {
		return err
	}
	return w.Flush()
}
