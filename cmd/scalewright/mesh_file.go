package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"scalewright/formats"
	"scalewright/solid"
)

// meshFormat is a kind of mesh file, by its ending.
type meshFormat struct {
	ending string
	read   func(untilDone) (solid.Mesh, error)
	write  func(w io.Writer, m solid.Mesh, name string) error
}

var meshFormats = []meshFormat{
	{".stl", readSTL, writeSTL},
	{".3mf", read3MF, write3MF},
	{".obj", readOBJ, formats.WriteOBJ},
}

// formatOf finds the kind of a file by its name.
func formatOf(name string) (meshFormat, error) {
	ending := strings.ToLower(filepath.Ext(name))
	var known []string
	for _, k := range meshFormats {
		if k.ending == ending {
			return k, nil
		}
		known = append(known, k.ending)
	}
	last := len(known) - 1
	return meshFormat{}, &usageError{
		fmt.Sprintf("%s: %q is not a kind of mesh file known here", name, ending),
		"name a file that ends in " + strings.Join(known[:last], ", ") + " or " + known[last],
	}
}

// mayWriteMesh refuses names that can't be written before the work begins; an
// empty name is a file nobody asked for.
func mayWriteMesh(names ...string) error {
	for _, name := range names {
		if name == "" {
			continue
		}
		if _, err := formatOf(name); err != nil {
			return err
		}
		dir := filepath.Dir(name)
		if info, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir() {
			return &usageError{fmt.Sprintf("%s: there is no folder %s", name, dir), "make the folder, or name a file in one that is there"}
		}
	}
	return nil
}

// readMesh reads until ctx ends.
func readMesh(ctx context.Context, name string) (solid.Mesh, error) {
	kind, err := formatOf(name)
	if err != nil {
		return solid.Mesh{}, err
	}
	file, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return solid.Mesh{}, &usageError{"there is no file " + name, "check the name"}
	}
	if err != nil {
		return solid.Mesh{}, err
	}
	defer file.Close()
	m, err := kind.read(untilDone{ctx, file})
	if err == nil {
		return m, nil
	}
	if _, limit := errors.AsType[*formats.LimitError](err); limit {
		return solid.Mesh{}, &usageError{fmt.Sprintf("%s cannot be read: %v", name, err), "export it with fewer triangles"}
	}
	if _, syntax := errors.AsType[*formats.SyntaxError](err); syntax {
		return solid.Mesh{}, &usageError{fmt.Sprintf("%s cannot be read: %v", name, err), "write it again from where it came"}
	}
	return solid.Mesh{}, fmt.Errorf("%s: %w", name, err)
}

// writeMesh writes beside the file and renames, so that the file is whole or as
// it was.
func writeMesh(name string, m solid.Mesh) (err error) {
	kind, err := formatOf(name)
	if err != nil {
		return err
	}
	beside := filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+".new")
	file, err := os.Create(beside)
	if err != nil {
		return err
	}
	b := bufio.NewWriter(file)
	err = kind.write(b, m, strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)))
	if err == nil {
		err = b.Flush()
	}
	if err = errors.Join(err, file.Close()); err == nil {
		err = os.Rename(beside, name)
	}
	if err != nil {
		os.Remove(beside)
		if _, rounding := errors.AsType[*formats.RoundingError](err); rounding {
			return &usageError{fmt.Sprintf("%s cannot hold this solid: %v", name, err), "write it as .3mf or .obj, which do not round"}
		}
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// untilDone is a file that can't be read any more once ctx ends.
type untilDone struct {
	ctx context.Context
	*os.File
}

func (f untilDone) Read(p []byte) (int, error) {
	if err := f.ctx.Err(); err != nil {
		return 0, err
	}
	return f.File.Read(p)
}

func (f untilDone) ReadAt(p []byte, at int64) (int, error) {
	if err := f.ctx.Err(); err != nil {
		return 0, err
	}
	return f.File.ReadAt(p, at)
}

func readSTL(file untilDone) (solid.Mesh, error) { return formats.ReadSTL(file, formats.Limits{}) }

func writeSTL(w io.Writer, m solid.Mesh, name string) error {
	_, err := formats.WriteSTL(w, m, name)
	return err
}

func readOBJ(file untilDone) (solid.Mesh, error) { return formats.ReadOBJ(file, formats.Limits{}) }

func read3MF(file untilDone) (solid.Mesh, error) {
	info, err := file.Stat()
	if err != nil {
		return solid.Mesh{}, err
	}
	model, err := formats.Read3MF(file, info.Size(), formats.Limits{})
	if err != nil {
		return solid.Mesh{}, err
	}
	return model.Mesh(formats.Limits{})
}

func write3MF(w io.Writer, m solid.Mesh, name string) error {
	if m.Empty() {
		return formats.Write3MF(w, formats.Model{})
	}
	return formats.Write3MF(w, formats.Model{
		Objects: []formats.Object{{Name: name, Mesh: m}},
		Items:   []formats.Item{{Object: 0, Transform: solid.Identity()}},
	})
}
