// Command meshes takes the kernel through meshes as people have them: it reads,
// checks and repairs each file of three public collections, bores what is a solid
// then, cuts it in half, hollows it, and prints what was wrong, what was changed and whether
// all that came out is closed. A sound mesh that was changed without a reason, or
// a result with a hole, makes it fail.
//
//	go run ./bench/meshes [-dir FOLDER] [-only NAME] [-full]
//
// The collections are fetched into the folder by bench/meshes/fetch; what can't
// be had is named and left out.
package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"reflect"
	"strings"
	"time"

	"scalewright/formats"
	"scalewright/solid"
)

func main() {
	dir := flag.String("dir", filepath.Join(os.TempDir(), "scalewright-meshes"), "folder for the meshes")
	only := flag.String("only", "", "files whose name holds this")
	full := flag.Bool("full", false, "print each change with its place")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *dir, *only, *full); err != nil {
		fmt.Fprintln(os.Stderr, "bench meshes:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, dir, only string, full bool) error {
	fetch := exec.CommandContext(ctx, "bash", "bench/meshes/fetch", dir)
	fetch.Stdout, fetch.Stderr = os.Stdout, os.Stderr
	if err := fetch.Run(); err != nil {
		fmt.Println("skipped: bench/meshes/fetch can't be run:", err)
	}
	fmt.Println("| file | triangles | faults before | repair | s | triangles after | volume | bored, cut, hollowed |")
	fmt.Println("| --- | --- | --- | --- | --- | --- | --- | --- |")
	rows := tally{volume: map[string]float64{}}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.Contains(path, only) {
			return err
		}
		switch strings.ToLower(filepath.Ext(path)) {
		case ".off", ".stl", ".obj":
		default:
			return nil
		}
		name, _ := filepath.Rel(dir, path)
		rows.row(ctx, name, path, full)
		return ctx.Err()
	})
	if errors.Is(err, fs.ErrNotExist) {
		fmt.Println("skipped: there is nothing in", dir)
		return nil
	}
	rows.compare()
	fmt.Printf("\n%d files: %d unreadable, %d sound and unchanged, %d repaired, %d refused\n",
		rows.files, rows.unreadable, rows.sound, rows.repaired, rows.refused)
	return errors.Join(err, rows.wrong)
}

// tally counts the outcomes and keeps what should not have happened.
type tally struct {
	files, unreadable, sound, repaired, refused int
	wrong                                       error
	volume                                      map[string]float64 // by file name
}

// pairs are damaged meshes that the collection also holds as they were.
var pairs = [][2]string{
	{"elephant-with-holes.off", "elephant.off"},
	{"double-torus-3-holes.off", "double-torus-example.off"},
	{"mpi.off", "mpi_triang.off"},
	{"blobby-shuffled.off", "blobby.off"},
	{"oblong-shuffled.off", "oblong.off"},
	{"cube-shuffled.off", "cube.off"},
	{"missingFace.ascii.stl", "tetrahedron.ascii.stl"},
}

// compare prints how far what was repaired is from what the collection holds.
func (n *tally) compare() {
	fmt.Println("\n| repaired | as it was | volume apart by |\n| --- | --- | --- |")
	for _, p := range pairs {
		made, seen := n.volume[p[0]]
		was, too := n.volume[p[1]]
		if seen && too {
			fmt.Printf("| %s | %s | %.1e |\n", p[0], p[1], math.Abs(made-was)/was)
		}
	}
}

func (n *tally) row(ctx context.Context, name, path string, full bool) {
	n.files++
	m, err := read(path)
	if err != nil {
		n.unreadable++
		fmt.Printf("| %s | | unreadable: %v | | | | |\n", name, err)
		return
	}
	faults := m.Check()
	begin := time.Now()
	out, changes, err := solid.Kernel{}.Repair(ctx, m, solid.RepairOptions{})
	seconds := time.Since(begin).Seconds()
	said, after, volume, work := summary(changes), "", "", ""
	switch {
	case err != nil:
		n.refused++
		said = "refused: " + strings.TrimPrefix(err.Error(), "mesh can't be repaired: ")
	case len(faults) == 0 && (len(changes) == 0 || changes[0].Kind == solid.CrossingsLeft):
		n.sound++
		said = strings.Join([]string{"sound", said}, " ")
		if !reflect.DeepEqual(m, out) {
			n.wrong = errors.Join(n.wrong, fmt.Errorf("%s: sound, and changed", name))
		}
	default:
		n.repaired++
	}
	if err == nil {
		n.volume[filepath.Base(name)] = out.Volume()
		after, volume, work = fmt.Sprint(len(out.Triangles)), fmt.Sprintf("%.6g", out.Volume()), "yes"
		if err := use(ctx, out); err != nil {
			work = "no"
			n.wrong = errors.Join(n.wrong, fmt.Errorf("%s: %w", name, err))
		}
	}
	fmt.Printf("| %s | %d | %s | %s | %.2f | %s | %s | %s |\n", name, len(m.Triangles), wrongs(faults), said, seconds, after, volume, work)
	if full {
		for _, c := range changes {
			fmt.Println("    ", c)
		}
	}
}

// use does with a solid what solids are for here: bores it along its longest
// side, a tenth as wide as it is, cuts what is left across the middle, and
// hollows it.
func use(ctx context.Context, m solid.Mesh) error {
	if err := m.Solid(); err != nil || m.Empty() {
		return err
	}
	box := m.Bounds()
	size, middle := box.Size(), box.Min.Add(box.Max).Scale(0.5)
	axis := 0
	for k := range 3 {
		if size[k] > size[axis] {
			axis = k
		}
	}
	r := size[(axis+1)%3] / 20
	drill, err := solid.Turn([]solid.PointRZ{{R: 0, Z: -size[axis]}, {R: r, Z: -size[axis]}, {R: r, Z: size[axis]}, {R: 0, Z: size[axis]}}, 48)
	if err != nil {
		return err
	}
	for i, p := range drill.Vertices {
		for k := range 3 { // from z to the axis
			drill.Vertices[i][k] = middle[k] + p[(k+2-axis)%3]
		}
	}
	bored, err := solid.Kernel{}.Subtract(ctx, m, drill)
	if err == nil {
		err = bored.Solid()
	}
	if err != nil {
		return fmt.Errorf("bored: %w", err)
	}
	var n solid.Vec
	n[axis] = 1
	low, high, err := solid.Cut(bored, solid.Plane{Normal: n, Offset: middle[axis]})
	if err = errors.Join(err, low.Solid(), high.Solid()); err != nil {
		return fmt.Errorf("cut: %w", err)
	}
	// A wall a thirtieth of the least side leaves a cavity in most shapes; less
	// than a hundredth of the longest would be finer than shells are made.
	wall := max(min(size[0], size[1], size[2])/30, size[axis]/100)
	if wall == 0 {
		return nil
	}
	hollow, _, err := solid.Kernel{}.Shell(ctx, bored, solid.ShellOptions{Wall: wall, Cell: wall / 2})
	if err == nil {
		err = hollow.Solid()
	}
	if err != nil {
		return fmt.Errorf("hollowed: %w", err)
	}
	return nil
}

func read(path string) (solid.Mesh, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return solid.Mesh{}, err
	}
	r := bytes.NewReader(data)
	switch strings.ToLower(filepath.Ext(path)) {
	case ".stl":
		return formats.ReadSTL(r, formats.Limits{})
	case ".obj":
		return formats.ReadOBJ(r, formats.Limits{})
	default:
		return readOFF(r)
	}
}

// wrongs counts faults by kind.
func wrongs(faults []solid.Fault) string {
	var parts []string
	for kind := solid.IndexOutOfRange; kind <= solid.InsideOut; kind++ {
		count := 0
		for _, f := range faults {
			if f.Kind == kind {
				count++
			}
		}
		if count > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", kind, count))
		}
	}
	return strings.Join(parts, ", ")
}

func summary(changes []solid.Change) string {
	var parts []string
	for _, c := range changes {
		parts = append(parts, fmt.Sprintf("%s %d", c.Kind, c.Count))
	}
	return strings.Join(parts, ", ")
}
