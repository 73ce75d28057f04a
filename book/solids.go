package book

import (
	"context"
	"errors"
	"io"

	"scalewright/finding"
	"scalewright/formats"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/solid"
)

// printSolid is a piece as it stands on its platform, in single precision.
type printSolid struct {
	mesh     solid.Mesh
	rounding formats.Rounding
	err      error // single precision cannot hold it: mesh is as carved
}

// printed stands every piece on its platform, side by side.
func printed(ctx context.Context, r job.Result) ([]printSolid, error) {
	return recipe.Each(ctx, r.Prints, func(_ context.Context, i int, _ model.Print) (printSolid, error) {
		return stand(r, i), nil
	})
}

func stand(r job.Result, i int) printSolid {
	return inSingle(r.Carved[i].Solid.Transform(r.Prints[i].Placement))
}

// inSingle is a solid in single precision, where that can hold it.
func inSingle(placed solid.Mesh) printSolid {
	mesh, rounding, err := formats.Round32(placed)
	if err != nil {
		return printSolid{mesh: placed, err: err}
	}
	return printSolid{mesh: mesh, rounding: rounding}
}

// writeSolid writes a piece's print files. A solid that single precision cannot
// hold has no STL, and a 3MF in full precision.
func writeSolid(w Writer, r job.Result, i int, s printSolid) error {
	piece := r.Division.Pieces[i]
	return writePrint(w, r.Name, "pieces/"+piece.ID.String(), piece.ID.String(), piece.Name, s)
}

// writePrint writes one solid as STL and 3MF under a file name without its end.
func writePrint(w Writer, build, file, id, name string, s printSolid) error {
	if s.err == nil {
		err := writeFile(w, file+".stl", func(w io.Writer) error {
			_, err := formats.WriteSTL(w, s.mesh, id)
			return err
		})
		if err != nil {
			return err
		}
	}
	whole := formats.Model{
		Metadata: []formats.Metadata{{Name: "Title", Value: build + ", " + name}},
		Objects:  []formats.Object{{Name: name, PartNumber: id, Mesh: s.mesh}},
		Items:    []formats.Item{{PartNumber: id, Transform: solid.Identity()}},
	}
	return writeFile(w, file+".3mf", func(w io.Writer) error { return formats.Write3MF(w, whole) })
}

func stlName(id string) string     { return "pieces/" + id + ".stl" }
func threeMFName(id string) string { return "pieces/" + id + ".3mf" }

// roundingFindings say where single precision changed a solid.
func roundingFindings(r job.Result, solids []printSolid) finding.List {
	var out finding.List
	for i, s := range solids {
		piece := r.Division.Pieces[i]
		var f finding.Finding
		var bad *formats.RoundingError
		switch {
		case errors.As(s.err, &bad):
			f = finding.New("stl-not-held", finding.Place{}, finding.Args{"piece": finding.Name(piece.Name)})
		case !s.rounding.Clean():
			f = finding.New("stl-rounded", finding.Place{}, finding.Args{
				"piece": finding.Name(piece.Name), "changes": finding.Name(s.rounding.String()),
			})
		default:
			continue
		}
		out.Add(f.About(piece.ID.Part).AtStation(piece.Span.From))
	}
	return out
}
