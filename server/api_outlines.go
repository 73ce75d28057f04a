package server

import (
	"context"
	"maps"
	"regexp"
	"slices"

	"scalewright/build"
	"scalewright/model"
	"scalewright/unit"
)

type marksIn struct {
	PhotoIn
	Body Marks
}

func putMarks(_ context.Context, d *desk, in marksIn) (Stored, error) {
	if !photoName.MatchString(photoDir+in.Name) || !d.folder.HasFile(photoDir+in.Name) {
		return Stored{}, notFound("there is no photograph of that name", "send it first")
	}
	marks := model.Marks{PitchMM: in.Body.Pitch}
	for _, m := range in.Body.Marks {
		marks.Marks = append(marks.Marks, model.Mark{Pixel: m.Px, Mat: m.Mm})
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	file, err := d.folder.PutMarks(photoDir+in.Name, marks)
	return Stored{file}, err
}

// outlines are what the build names now, whatever was derived.
func outlines(_ context.Context, d *desk, _ seenIn) (Outlines, error) {
	d.used()
	d.mu.Lock()
	all := d.loaded.Outlines
	d.mu.Unlock()
	out := Outlines{Outlines: []TypedOutline{}}
	for _, file := range slices.Sorted(maps.Keys(all)) {
		o := all[file]
		one := TypedOutline{File: file, Doubt: o.DoubtMM, Of: "reference", Closed: o.Closed, Path: []OutlineStep{}, Holes: len(o.Holes)}
		if o.Owner == unit.OfShop {
			one.Of = "shop"
		}
		for _, s := range build.Steps(o.Path) {
			one.Path = append(one.Path, OutlineStep(s))
		}
		out.Outlines = append(out.Outlines, one)
	}
	return out, nil
}

type outlineIn struct {
	OnBuild
	Name string `path:"name" maxLength:"60" doc:"Without folder and ending: tail."`
	Body TypedOutline
}

// outlineName is a plain name.
var outlineName = regexp.MustCompile(`^[\pL\pN][\pL\pN _-]{0,59}$`)

func putOutline(_ context.Context, d *desk, in outlineIn) (Stored, error) {
	if !outlineName.MatchString(in.Name) {
		return Stored{}, badRequest("that is no name for an outline", "take letters, figures, spaces and hyphens")
	}
	if in.Body.Holes > 0 {
		return Stored{}, badRequest("holes are typed in the file itself", "edit the file; the page looks at it again by itself")
	}
	owner := unit.OfReference
	if in.Body.Of == "shop" {
		owner = unit.OfShop
	}
	var steps []build.Step
	for _, s := range in.Body.Path {
		steps = append(steps, build.Step(s))
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	file, err := d.folder.PutOutline(in.Name, in.Body.Doubt, owner, in.Body.Closed, steps)
	return Stored{file}, err
}
