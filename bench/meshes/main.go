// Command meshes takes the kernel through meshes as people have them: it reads,
// checks and repairs each file of three public collections, and prints what was
// wrong, what was changed and what became of it.
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
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
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
	fmt.Println("| file | triangles | faults before | repair | triangles after | volume | s |")
	fmt.Println("| --- | --- | --- | --- | --- | --- | --- |")
	var rows tally
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
	fmt.Printf("\n%d files: %d unreadable, %d sound and unchanged, %d repaired, %d refused\n",
		rows.files, rows.unreadable, rows.sound, rows.repaired, rows.refused)
	return errors.Join(err, rows.wrong)
}

// tally counts the outcomes and keeps what should not have happened.
type tally struct {
	files, unreadable, sound, repaired, refused int
	wrong                                       error
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
	said := summary(changes)
	after, volume := "", ""
	switch {
	case err != nil:
		n.refused++
		said = fmt.Sprintf("refused: %v", strings.TrimPrefix(err.Error(), "mesh can't be repaired: "))
	case len(faults) == 0 && len(changes) == 0:
		n.sound++
		said = "sound"
	default:
		n.repaired++
	}
	if err == nil {
		after, volume = fmt.Sprint(len(out.Triangles)), fmt.Sprintf("%.6g", out.Volume())
		if left := out.Check(); len(left) > 0 {
			n.wrong = errors.Join(n.wrong, fmt.Errorf("%s: repaired, but %v", name, left[0]))
		}
	}
	fmt.Printf("| %s | %d | %s | %s | %s | %s | %.2f |\n", name, len(m.Triangles), wrongs(faults), said, after, volume, seconds)
	if full {
		for _, c := range changes {
			fmt.Println("    ", c)
		}
	}
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
