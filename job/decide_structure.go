package job

import (
	"context"

	"scalewright/stage/structure"
	"scalewright/unit"
)

// structure weighs the build and stands it up.
func (r *runner) structure(ctx context.Context) error {
	d := r.out.Design
	in := structure.Input{
		Parts: d.Parts, Raw: r.out.Raw, Division: r.out.Division, Mounts: d.Mounts,
		Carved: r.out.Carved, Prints: r.out.Prints, Filaments: d.Shop.Filaments, Core: d.Core,
		Components: d.Components, Places: r.out.Places, Finish: d.Finish, Stand: d.Stand, Site: d.Site,
		Fits: r.out.Fits.Fits, Length: unit.Length(d.Length.X),
	}
	value, found, err := structure.Run(ctx, in)
	for i := range found {
		found[i].Stage = "structure"
	}
	r.out.Structure = value
	r.found.Add(found...)
	return err
}
