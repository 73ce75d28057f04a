package carve

import (
	"context"
	"fmt"
	"math"

	"scalewright/craft/joinery"
	"scalewright/craft/turning"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
)

// featured gives a piece, in its place in the build, what joins it off the axis:
// a guest ends at its host and grows tongues, a host gets slots, openings and
// ledges. What adds goes before what cuts.
func featured(ctx context.Context, in Input, m solid.Mesh) (solid.Mesh, finding.List, error) {
	if len(in.Hosts) == 0 && len(in.Tabs) == 0 && len(in.Windows) == 0 && len(in.Passes) == 0 && len(in.Holds) == 0 {
		return m, nil, nil
	}
	if in.Piece.ID.Kind == model.Panel {
		sides, err := panelled(in)
		if err == nil {
			m, err = solid.Kernel{}.Intersect(ctx, m, sides)
		}
		if err != nil {
			return m, nil, fmt.Errorf("sides of %s: %w", in.Piece.ID, err)
		}
	}
	f := feature{Input: in, ctx: ctx, whole: m}
	add, cut, found, err := f.bodies()
	if err != nil || found.Blocked() {
		return m, found, err
	}
	k := solid.Kernel{}
	if m, err = k.Subtract(ctx, m, f.under...); err == nil && len(add) > 0 {
		m, err = k.Union(ctx, append([]solid.Mesh{m}, add...)...)
	}
	if err == nil && len(cut) > 0 {
		m, err = k.Subtract(ctx, m, cut...)
	}
	if err != nil {
		return m, nil, fmt.Errorf("join %s: %w", in.Piece.ID, err)
	}
	if n := solids(m); n != 1 {
		found.Add(parted("joints-part-piece", in, n)...)
	}
	return m, found, nil
}

// feature is a piece getting its features.
type feature struct {
	Input
	ctx   context.Context
	whole solid.Mesh   // the piece before them
	under []solid.Mesh // what hosts take of a guest
}

// bodies are what is added to the piece and what is cut from it.
func (f *feature) bodies() (add, cut []solid.Mesh, found finding.List, err error) {
	for _, h := range f.Hosts {
		body, err := h.outside()
		if err != nil {
			return nil, nil, nil, err
		}
		if touching, err := f.meets(body); err != nil {
			return nil, nil, nil, err
		} else if !touching {
			found.Add(finding.New("mount-apart", h.Mount.At, finding.Args{
				"guest": finding.Name(f.Piece.Name), "host": finding.Name(h.Part.ID),
			}).About(f.Part.ID))
		}
		within, err := f.within(body)
		switch {
		case err != nil:
			return nil, nil, nil, err
		case !within:
			f.under = append(f.under, body)
		default:
			more, err := f.clearOf(h, body)
			if err != nil {
				return nil, nil, nil, err
			}
			found.Add(more...)
		}
	}
	for _, t := range f.Tabs {
		body, err := f.tab(t)
		if err != nil {
			return nil, nil, nil, err
		}
		if t.Tab.Guest == f.Piece.ID {
			add = append(add, body)
		} else {
			cut = append(cut, body)
		}
	}
	for _, p := range f.Passes {
		hole, err := f.pass(p)
		if err != nil {
			return nil, nil, nil, err
		}
		cut = append(cut, hole)
	}
	for _, w := range f.Windows {
		if w.Window.Panel == f.Piece.ID {
			cut = append(cut, f.sunkScrews(w)...)
			continue
		}
		more, less, err := f.window(w)
		if err != nil {
			return nil, nil, nil, err
		}
		add, cut = append(add, more...), append(cut, less...)
	}
	for _, h := range f.Holds {
		more, less, err := f.hold(h)
		if err != nil {
			return nil, nil, nil, err
		}
		add, cut = append(add, more...), append(cut, less...)
	}
	return add, cut, found, nil
}

// pass is the hole that cables take through a ring or a disc, along the axis.
func (f *feature) pass(p model.Pass) (solid.Mesh, error) {
	sin, cos := math.Sincos(p.Clocking)
	box := f.whole.Bounds()
	hole, err := rod(float64(p.Across)/2, box.Min[2]-1, box.Max[2]+1, passFlats)
	return hole.Translate(solid.Vec{float64(p.Radius) * cos, float64(p.Radius) * sin, 0}), err
}

// passFlats is how many flats a hole for cables has.
const passFlats = 48

// meets reports whether the piece reaches into a host. A piece of a part that
// another piece of it joins to the host need not.
func (f *feature) meets(body solid.Mesh) (bool, error) {
	if f.Piece.ID.From != model.Foot || f.Piece.ID.To != "" && f.Piece.ID.To != model.Nose {
		return true, nil
	}
	gap, err := solid.Kernel{}.Clearance(f.ctx, f.whole, body)
	return gap.Distance <= touches, err
}

// within reports whether the piece lies inside a host altogether: a diffuser in a
// bell. It then keeps its shape.
func (f *feature) within(body solid.Mesh) (bool, error) {
	out, err := solid.Kernel{}.Subtract(f.ctx, f.whole, body)
	return out.Volume() < leastOut*f.whole.Volume(), err
}

// leastOut of a guest has to stand out of its host for it to be mounted outside.
const leastOut = 1e-6

// clearOf says where what lies inside a host runs into its wall.
func (f *feature) clearOf(h Host, body solid.Mesh) (finding.List, error) {
	if len(h.Raw.FootDown) == 0 {
		return nil, nil
	}
	hollow, err := solid.TurnLoops(points(turning.Under(h.Raw.FootDown).Loops()), h.Segments)
	if err != nil {
		return nil, fmt.Errorf("inside of %s: %w", h.Part.ID, err)
	}
	out, err := solid.Kernel{}.Subtract(f.ctx, f.whole, hollow.Transform(h.Part.Frame()))
	if err != nil || out.Volume() <= leastOut*f.whole.Volume() {
		return nil, err
	}
	return finding.List{finding.New("guest-in-wall", h.Mount.At, finding.Args{
		"guest": finding.Name(f.Piece.Name), "host": finding.Name(h.Part.ID), "much": finding.Number(math.Ceil(out.Volume() / 1000)),
	}).About(f.Part.ID)}, nil
}

// touches is how far apart two parts may be typed that lie face on face, mm: glue
// fills it.
const touches = 0.1

// outside is all that lies under a host's outer surface.
func (h Host) outside() (solid.Mesh, error) {
	switch {
	case !h.Raw.Filled.Empty():
		return h.Raw.Filled.Transform(h.Part.Frame()), nil
	case !h.Raw.Solid.Empty():
		return h.Raw.Solid.Transform(h.Part.Frame()), nil
	}
	body, err := solid.TurnLoops(points(turning.Under(h.Raw.Outer).Loops()), h.Segments)
	if err != nil {
		return body, fmt.Errorf("outside of %s: %w", h.Part.ID, err)
	}
	return body.Transform(h.Part.Frame()), nil
}

// tab is the tongue of a guest, or the slot for it: longer and thicker by the
// same gap, and open at its inner end.
func (f *feature) tab(t Tab) (solid.Mesh, error) {
	gap := float64(t.Fit.Bore.Nominal-t.Fit.MaleSize.Nominal) / 2
	from, to := float64(t.Tab.Span.From), float64(t.Tab.Span.To)
	if t.Tab.Guest != f.Piece.ID {
		const deeper = 1.0 // mm, so that the slot ends past the tongue's tip
		return joinery.Slot(t.Tab.Clocking, float64(t.Fit.Bore.Nominal), from-gap, to+gap, float64(t.Tab.Tip)-deeper, float64(t.Tab.Top)+slotOut, f.Piece.Direction != model.NoseDown)
	}
	leaf, err := joinery.Leaf(t.Tab.Clocking, float64(t.Fit.MaleSize.Nominal), from, to, float64(t.Tab.Tip), float64(t.Tab.Top))
	if err != nil {
		return leaf, err
	}
	return solid.Kernel{}.Intersect(f.ctx, leaf, f.whole)
}

// slotOut is how far past the host's surface a slot's cutter runs, mm.
const slotOut = 5.0
