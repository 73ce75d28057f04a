package shape

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path"
	"strings"

	"scalewright/finding"
	"scalewright/formats"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// imported is the solid of a mesh file, enlarged, mended where it needs it, and
// hollowed where it has a wall. It is divided along its own axis.
func imported(ctx context.Context, in Input) (model.Raw, finding.List, error) {
	part := in.Part
	raw := model.Raw{Part: part.ID}
	mesh, err := read(part.Import.File, in.Model)
	if err != nil {
		return raw, finding.List{finding.New("model-unread", part.At.Key("model"), finding.Args{
			"file": finding.Name(part.Import.File), "why": finding.Name(err.Error()),
		}).About(part.ID)}, nil
	}
	mesh = mesh.Transform(solid.Scaling(part.Import.Scale))
	mesh, found, err := mend(ctx, part, mesh)
	if err != nil || found.Blocked() {
		return raw, found, err
	}
	raw.Solid = mesh
	if part.Import.Hollow {
		if err := shell(ctx, part, &raw, &found); err != nil {
			return raw, found, err
		}
	}
	raw.Line = lineOf(mesh, solid.Vec{0, 0, 1})
	// An imported part's stations are those of its file.
	raw.Line.Span = model.Span{From: unit.Length(raw.Line.Zero), To: raw.Line.Span.To + unit.Length(raw.Line.Zero)}
	raw.Line.Zero = 0
	return raw, found, nil
}

// read reads a mesh file by its ending.
func read(name string, data []byte) (solid.Mesh, error) {
	var m solid.Mesh
	var err error
	switch strings.ToLower(path.Ext(name)) {
	case ".stl":
		m, err = formats.ReadSTL(bytes.NewReader(data), formats.Limits{})
	case ".obj":
		m, err = formats.ReadOBJ(bytes.NewReader(data), formats.Limits{})
	case ".3mf":
		var whole formats.Model
		whole, err = formats.Read3MF(bytes.NewReader(data), int64(len(data)), formats.Limits{})
		if err == nil {
			m, err = whole.Mesh(formats.Limits{})
		}
	default:
		err = fmt.Errorf("it ends in %q; name an .stl, .3mf or .obj", path.Ext(name))
	}
	if err == nil && m.Empty() {
		err = errors.New("it holds no triangle")
	}
	return m, err
}

// mend closes a mesh that is not sound, and says what that took.
func mend(ctx context.Context, part model.Part, mesh solid.Mesh) (solid.Mesh, finding.List, error) {
	if mesh.Solid() == nil {
		return mesh, nil, nil
	}
	at := part.At.Key("model")
	mended, changes, err := solid.Kernel{}.Repair(ctx, mesh, solid.RepairOptions{})
	var refused *solid.RepairError
	switch {
	case errors.As(err, &refused):
		return mesh, finding.List{finding.New("model-open", at, finding.Args{
			"file": finding.Name(part.Import.File), "why": finding.Name(refused.Error()),
		}).About(part.ID)}, nil
	case err != nil:
		return mesh, nil, fmt.Errorf("mend %s: %w", part.Import.File, err)
	}
	var words []string
	for _, c := range changes {
		words = append(words, c.String())
	}
	return mended, finding.List{finding.New("model-mended", at, finding.Args{
		"file": finding.Name(part.Import.File), "changes": finding.Name(summed(words)),
	}).About(part.ID)}, nil
}

// How many changes a note names.
const changesNamed = 4

func summed(words []string) string {
	if more := len(words) - changesNamed; more > 0 {
		return fmt.Sprintf("%s; and %d more", strings.Join(words[:changesNamed], "; "), more)
	}
	return strings.Join(words, "; ")
}

// A hollowed part gets as few triangles as keep its faces this near, mm: below
// what a printer shows.
const faceNear = 0.05

// shell hollows the part. Its cavity is shaped as coarsely as its wall allows and
// then loses the triangles that flat ground does not need; the wall is made thicker
// by what that may take off at either face.
func shell(ctx context.Context, part model.Part, raw *model.Raw, found *finding.List) error {
	wall := float64(part.Wall) + 2*faceNear
	hollow, report, err := solid.Kernel{}.Shell(ctx, raw.Solid, solid.ShellOptions{Wall: wall, Cell: wall / 2})
	if err != nil {
		return fmt.Errorf("hollow %s: %w", part.ID, err)
	}
	if report.Cavities == 0 {
		found.Add(finding.New("too-thin-to-hollow", part.At.Key("wall"), finding.Args{"wall": finding.Fine(part.Wall)}).About(part.ID))
		return nil
	}
	fewer, kept, err := solid.Kernel{}.Simplify(ctx, hollow, solid.SimplifyOptions{MaxError: faceNear})
	if err != nil {
		return fmt.Errorf("simplify %s: %w", part.ID, err)
	}
	raw.Filled, raw.Solid = withoutCavities(fewer), fewer
	raw.Least = model.Least{Thickness: unit.Length(report.Thinnest - 2*kept.Bound), Station: unit.Length(report.At[2])}
	return nil
}

// withoutCavities leaves the shells that enclose material, so that what is put back
// inside meets the same outside to the bit.
func withoutCavities(m solid.Mesh) solid.Mesh {
	var outer []solid.Mesh
	for _, c := range m.Components() {
		if c.Volume() > 0 {
			outer = append(outer, c)
		}
	}
	return solid.Join(outer...)
}
