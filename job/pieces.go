package job

import (
	"context"
	"slices"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/stage/carve"
	"scalewright/stage/divide"
	"scalewright/stage/fit"
	"scalewright/stage/printing"
	"scalewright/stock"
)

// pieces is one round of decisions and judges.
type pieces struct {
	division model.Division
	places   model.Places
	keys     []recipe.Key // of carved
	fits     model.Fits
	carved   []model.Carved
	prints   []model.Print
	found    finding.List
}

// makePieces divides, fits, carves and judges, counting on what it is told.
func (r *runner) makePieces(ctx context.Context, told recipe.Assumptions) (recipe.Outcome[pieces], error) {
	d := r.out.Design
	var p pieces
	var out recipe.Outcome[pieces]
	cut := divide.Input{
		Parts: d.Parts, Raw: r.out.Raw, Core: d.Core, Interfaces: d.Interfaces, Cuts: d.Cuts,
		Mounts: d.Mounts, Openings: d.Openings, Stand: d.Stand, Printers: d.Shop.Printers, Told: told.Minutes,
	}
	key := divideStage.Key(d.Parts, r.raws, d.Core, d.Interfaces, d.Cuts, d.Mounts, d.Openings, d.Stand, d.Shop.Printers, told.Minutes)
	division, found, err := remember(ctx, r, divideStage, key, func(ctx context.Context) (model.Division, finding.List, error) {
		return divide.Run(ctx, cut)
	})
	p.division = division
	p.found.Add(found...)
	if err != nil || p.found.Blocked() {
		out.Value = p
		return out, err
	}
	if err := r.place(ctx, &p, key); err != nil || p.found.Blocked() {
		out.Value = p
		return out, err
	}
	sizes := fit.Input{
		Parts: d.Parts, Raw: r.out.Raw, Core: d.Core, CoreWidth: r.out.Facts.CoreWidth,
		Division: division, Stand: d.Stand, Printers: d.Shop.Printers, Kept: r.in.Kept, Seed: r.in.Seed,
	}
	fitKey := fitStage.Key(key, d.Shop.Printers, r.out.Facts.CoreWidth, r.in.Kept, r.in.Seed)
	p.fits, found, err = remember(ctx, r, fitStage, fitKey, func(ctx context.Context) (model.Fits, finding.List, error) {
		return fit.Run(ctx, sizes)
	})
	p.found.Add(found...)
	if err != nil || p.found.Blocked() {
		out.Value = p
		return out, err
	}
	if err := r.makeEach(ctx, &p); err != nil {
		return out, err
	}
	out.Value = p
	for i, piece := range division.Pieces {
		out.Assumed.AssumeMinutes(told, piece.ID.String(), piece.Counted)
		out.Observed.ObserveMinutes(piece.ID.String(), p.prints[i].Minutes)
	}
	return out, nil
}

// makeEach carves and judges every piece, side by side.
func (r *runner) makeEach(ctx context.Context, p *pieces) error {
	step := r.meter.Start("carve", len(p.division.Pieces))
	type made struct {
		carved model.Carved
		key    recipe.Key
		print  model.Print
		found  finding.List
	}
	all, err := recipe.Each(ctx, p.division.Pieces, func(ctx context.Context, _ int, piece model.Piece) (made, error) {
		var m made
		in, raws := r.carveInput(piece, *p)
		key := carveStage.Key(in.Piece, in.Part, raws, in.Below, in.Above, in.Seats, in.OnCore, in.Core, in.Segments, in.Tabs, in.Windows, in.Passes, in.Holds, in.Bush)
		carved, found, err := remember(ctx, r, carveStage, key, func(ctx context.Context) (model.Carved, finding.List, error) {
			return carve.Run(ctx, in)
		})
		if err != nil {
			return m, err
		}
		m.carved, m.key = carved, key
		m.found.Add(found...)
		print, found, err := r.judge(ctx, piece, in.Part, carved, key)
		m.print = print
		m.found.Add(found...)
		step()
		return m, err
	})
	for _, m := range all {
		p.carved = append(p.carved, m.carved)
		p.keys = append(p.keys, m.key)
		p.prints = append(p.prints, m.print)
		p.found.Add(m.found...)
	}
	return err
}

func (r *runner) judge(ctx context.Context, piece model.Piece, part model.Part, carved model.Carved, carvedKey recipe.Key) (model.Print, finding.List, error) {
	piece.Counted = 0 // printing finds its own minutes
	printer, _ := r.out.Design.Shop.Printer(piece.Printer)
	in := printing.Input{
		Piece: piece, Carved: carved, Part: part, Printer: printer,
		Density: r.density(piece.Filament), Logged: r.out.Facts.Took[piece.ID.String()],
	}
	key := printingStage.Key(in.Piece, carvedKey, in.Part, in.Printer, in.Density, in.Logged)
	return remember(ctx, r, printingStage, key, func(ctx context.Context) (model.Print, finding.List, error) {
		return printing.Run(ctx, in)
	})
}

// density is the filament's, or its material's, g/cm³.
func (r *runner) density(id string) float64 {
	filament, _ := r.out.Design.Shop.Filament(id)
	if material, ok := stock.FindMaterial(filament.Material); ok && filament.Density == 0 {
		return material.Density
	}
	return filament.Density
}

// carveInput gathers what touches a piece.
func (r *runner) carveInput(piece model.Piece, p pieces) (carve.Input, []recipe.Key) {
	// Who prints it and how long that may take changes nothing of its shape.
	shape := piece
	shape.Printer, shape.Counted = "", 0
	in := carve.Input{Piece: shape, Core: r.out.Design.Core}
	var raws []recipe.Key
	for i, part := range r.out.Design.Parts {
		if part.ID == piece.ID.Part {
			in.Part, in.Raw = part, r.out.Raw[i]
			raws = append(raws, r.raws[i])
		}
	}
	if widest := carve.Widest(r.out.Design, in.Part); widest > 0 {
		in.Segments = carve.Segments(widest)
	}
	for _, s := range p.division.Seams {
		joint := &carve.Joint{Seam: s, Fits: p.fits.Of(s.ID)}
		collar := model.PieceID{Kind: model.CollarRing, Part: s.Above.Part, From: s.Above.From}
		switch piece.ID {
		case s.Above:
			in.Below = joint
		case s.Below, collar:
			in.Above = joint
		}
	}
	for _, s := range p.division.Seats {
		if piece.ID == s.Host || piece.ID == s.Ring {
			in.Seats = append(in.Seats, carve.Seat{Seat: s, Fit: p.fits.Of(s.Ring.String())[0]})
		}
	}
	for _, f := range p.fits.Fits {
		if f.Male == "core" && f.Female == piece.ID.String() {
			in.OnCore = &f
		}
	}
	if piece.ID.Kind == model.Bush {
		in.Bush = p.fits.Of(piece.ID.String())
	}
	raws = append(raws, r.mounted(piece, p, &in)...)
	return in, raws
}

// mounted adds what joins a piece off the axis: its hosts, tongues and openings.
// The keys are of the hosts' shapes.
func (r *runner) mounted(piece model.Piece, p pieces, in *carve.Input) []recipe.Key {
	var keys []recipe.Key
	for _, m := range r.out.Design.Mounts {
		for i, part := range r.out.Design.Parts {
			if m.Guest != piece.ID.Part || m.Host != part.ID {
				continue
			}
			host := carve.Host{Mount: m, Part: part, Raw: r.out.Raw[i]}
			if widest := carve.Widest(r.out.Design, part); widest > 0 {
				host.Segments = carve.Segments(widest)
			}
			in.Hosts = append(in.Hosts, host)
			keys = append(keys, r.raws[i])
		}
	}
	for _, t := range p.division.Tabs {
		if t.Guest == piece.ID || t.Host == piece.ID {
			in.Tabs = append(in.Tabs, carve.Tab{Tab: t, Fit: p.fits.Of(t.ID)[0]})
		}
	}
	for _, h := range p.division.Holds {
		if h.Guest == piece.ID || h.Host == piece.ID {
			in.Holds = append(in.Holds, carve.Hold{Hold: h, Holes: holesOf(p.fits, h.Mount, piece)})
		}
	}
	for _, way := range p.places.Ways {
		for _, pass := range way.Passes {
			if pass.Piece == piece.ID && !slices.Contains(in.Passes, pass) {
				in.Passes = append(in.Passes, pass)
			}
		}
	}
	for _, v := range p.division.Windows {
		if v.Piece != piece.ID && v.Panel != piece.ID {
			continue
		}
		w := carve.Window{Window: v}
		if fits := p.fits.Of(v.Opening.ID); len(fits) > 0 {
			w.Fit = fits[0]
		}
		w.Holes = holesOf(p.fits, v.Opening.ID, piece)
		in.Windows = append(in.Windows, w)
	}
	return keys
}

// holesOf are a joint's or an opening's holes in a piece.
func holesOf(fits model.Fits, of string, piece model.Piece) []model.Hole {
	var out []model.Hole
	for _, h := range fits.Holes {
		if h.Of == of && h.Piece == piece.ID.String() {
			out = append(out, h)
		}
	}
	return out
}
