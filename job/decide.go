package job

import (
	"context"
	"slices"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/stage/facts"
	"scalewright/stage/shape"
)

func (r *runner) facts(ctx context.Context) error {
	in := facts.Input{Events: r.in.Events, Shop: r.in.Declared.Shop}
	value, found, err := remember(ctx, r, factsStage, factsStage.Key(in), func(ctx context.Context) (facts.Result, finding.List, error) {
		return facts.Run(ctx, in)
	})
	r.out.Facts = value
	r.in.Declared.Shop = value.Shop
	r.found.Add(found...)
	return err
}

func (r *runner) resolve(context.Context) error {
	r.out.Design = model.Resolve(r.in.Declared, r.out.Trace, r.in.Outlines, r.out.Enlarge.Ratio)
	return nil
}

func (r *runner) shape(ctx context.Context) error {
	d := r.out.Design
	step := r.meter.Start("shape", len(d.Parts))
	r.raws = make([]recipe.Key, len(d.Parts))
	type shaped struct {
		raw   model.Raw
		found finding.List
	}
	all, err := recipe.Each(ctx, d.Parts, func(ctx context.Context, i int, part model.Part) (shaped, error) {
		in := shape.Input{Part: part}
		if part.OnBody() {
			in.Body = d.Outline
		}
		if part.Form == model.Imported {
			in.Model = r.in.Models[part.Import.File]
		}
		r.raws[i] = shapeStage.Key(in.Part, in.Body, recipe.Content(in.Model))
		raw, found, err := remember(ctx, r, shapeStage, r.raws[i], func(ctx context.Context) (model.Raw, finding.List, error) {
			return shape.Run(ctx, in)
		})
		step()
		return shaped{raw, found}, err
	})
	for _, s := range all {
		r.out.Raw = append(r.out.Raw, s.raw)
		r.found.Add(s.found...)
	}
	return err
}

func (r *runner) calendar(ctx context.Context) error {
	in := calendar.Input{
		Start: r.in.Declared.Calendar.Start, Ready: r.in.Declared.Calendar.Ready, At: r.in.Declared.Calendar.At,
		Division: r.out.Division, Prints: r.out.Prints, Tasks: append(r.out.Assembly.Tasks(), r.out.Finishing.Tasks...),
		Printers: r.out.Design.Shop.Printers, People: r.out.Design.Shop.People, Done: r.out.Facts.Done,
		Took: r.out.Facts.TookTask, Seed: r.in.Seed,
	}
	value, found, err := remember(ctx, r, calendarStage, calendarStage.Key(in), func(ctx context.Context) (calendar.Result, finding.List, error) {
		return calendar.Run(ctx, in)
	})
	r.out.Calendar = value
	r.found.Add(found...)
	return err
}

// settle runs decisions and judges until what divide counted on covers what
// printing found.
func (r *runner) settle(ctx context.Context) error {
	settled, err := recipe.Settle(ctx, recipe.MostReruns, func(ctx context.Context, told recipe.Assumptions) (recipe.Outcome[pieces], error) {
		return r.makePieces(ctx, told)
	})
	if err != nil {
		return err
	}
	p := settled.Value
	r.out.Division, r.out.Places, r.out.Fits, r.out.Carved, r.out.Prints = p.division, p.places, p.fits, p.carved, p.prints
	r.carvedKeys = p.keys
	r.out.Reruns = settled.Runs - 1
	r.found.Add(p.found...)
	r.found.Add(settled.Findings(func(id string) recipe.Concern {
		k := slices.IndexFunc(p.division.Pieces, func(q model.Piece) bool { return q.ID.String() == id })
		if k < 0 {
			return recipe.Concern{Name: id}
		}
		return recipe.Concern{Part: p.division.Pieces[k].ID.Part, Name: p.division.Pieces[k].Name}
	})...)
	return nil
}
