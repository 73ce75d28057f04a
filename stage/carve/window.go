package carve

import (
	"math"

	"scalewright/craft/joinery"
	"scalewright/craft/turning"
	"scalewright/model"
	"scalewright/solid"
)

// window cuts an opening; where a panel closes it, a ledge inside carries the
// panel's rim.
func (f *feature) window(w Window) (add, cut []solid.Mesh, err error) {
	o := w.Window.Opening
	far := f.radius() + slotOut
	if o.Across > 0 {
		hole, err := joinery.Drill(o.Clocking, float64(o.Station), float64(o.Across), 0, far)
		return nil, []solid.Mesh{hole}, err
	}
	if w.Window.Panel == (model.PieceID{}) {
		hole, err := f.opened(w, 0, 0, far)
		return nil, []solid.Mesh{hole}, err
	}
	ledge, err := f.ledge(w)
	if err != nil {
		return nil, nil, err
	}
	// Down to the ledge the panel's own size, through it so much smaller.
	seat, err := f.seated(w)
	if err != nil {
		return nil, nil, err
	}
	hole, err := f.opened(w, -float64(model.LedgeWide), 0, far)
	if err != nil {
		return nil, nil, err
	}
	return []solid.Mesh{ledge}, append([]solid.Mesh{seat, hole}, f.mustScrews(w, printed(w.Holes, model.ForThread), wedgeBore, f.radius()+slotOut)...), nil
}

// opened is the wedge of an opening, larger all round by so much, between two
// radii.
func (f *feature) opened(w Window, larger, r0, r1 float64) (solid.Mesh, error) {
	o := w.Window.Opening
	half := (float64(o.Wide)/2 + larger) / float64(w.Window.Radius)
	z0, z1 := float64(o.Station-o.High/2)-larger, float64(o.Station+o.High/2)+larger
	return joinery.Wedge(o.Clocking, half, z0, z1, max(r0, wedgeBore), r1)
}

// wedgeBore keeps a wedge off the axis, mm.
const wedgeBore = 1.0

// seated is what the panel takes of the wall: the opening's wedge over the cavity.
func (f *feature) seated(w Window) (solid.Mesh, error) {
	wedge, err := f.opened(w, 0, 0, f.radius()+slotOut)
	if err != nil {
		return wedge, err
	}
	hollow, err := f.turn(turning.Under(f.cavity()))
	if err != nil {
		return wedge, err
	}
	return solid.Kernel{}.Subtract(f.ctx, wedge, hollow)
}

// ledge is the frame that the panel's rim lies on: a pad of the wall's thickness all
// round the opening.
func (f *feature) ledge(w Window) (solid.Mesh, error) {
	o := w.Window.Opening
	half := (float64(o.Wide)/2 + float64(model.LedgeWide)) / float64(w.Window.Radius)
	reach := o.High/2 + model.LedgeWide
	return f.pad(o.Clocking, half, model.Span{From: o.Station - reach, To: o.Station + reach}, float64(f.Part.Wall), true)
}

// pad is material inside the wall: about a clocking, an angle to either side, between
// two stations, of a thickness where the wall is nearest to the axis; where it may,
// its underside slopes at 45° so that it prints without support.
func (f *feature) pad(clocking, half float64, span model.Span, thick float64, slopes bool) (solid.Mesh, error) {
	z0, z1 := float64(span.From), float64(span.To)
	hollow := turning.Under(f.cavity())
	low := model.LowestBetween(f.cavity(), z0, z1) - thick
	band := turning.Ring(z0, z1, low, 2*f.radius())
	slope := turning.Taper(z0-thick, z0, low+thick, low, 2*f.radius(), 2*f.radius())
	if f.Piece.Direction == model.NoseDown {
		slope = turning.Taper(z1, z1+thick, low, low+thick, 2*f.radius(), 2*f.radius())
	}
	if !slopes {
		slope = turning.Region{}
	}
	// A hair into the wall, so that the two grow together.
	const hair = 0.05
	ring, err := f.turn(band.Union(slope).Intersect(hollow.Union(f.wallSkin(hair))))
	if err != nil {
		return ring, err
	}
	wedge, err := joinery.Wedge(clocking, half, z0-thick, z1+thick, wedgeBore, f.radius()+slotOut)
	if err != nil {
		return wedge, err
	}
	return solid.Kernel{}.Intersect(f.ctx, ring, wedge)
}

// wallSkin is the cavity grown outwards by a hair.
func (f *feature) wallSkin(hair float64) turning.Region {
	grown := make([]model.Point, len(f.cavity()))
	for i, p := range f.cavity() {
		grown[i] = model.Point{Station: p.Station, Radius: p.Radius + hair}
	}
	return turning.Under(grown)
}

func (f *feature) turn(r turning.Region) (solid.Mesh, error) {
	return solid.TurnLoops(points(r.Loops()), f.Segments)
}

// mustScrews are the holes of a panel's four screws, in the middle of the ledge's
// corners, from one radius to another.
func (f *feature) mustScrews(w Window, across, r0, r1 float64) []solid.Mesh {
	return f.eachScrew(w, func(_ int, clocking, station float64) (solid.Mesh, error) {
		return joinery.Drill(clocking, station, across, r0, r1)
	})
}

// sunkScrews are a panel's holes: for the screws, and a cone for each head with the
// way in to it.
func (f *feature) sunkScrews(w Window) []solid.Mesh {
	v := w.Window
	out := f.mustScrews(w, printed(w.Holes, model.ForShank), wedgeBore, f.radius()+slotOut)
	return append(out, f.eachScrew(w, func(end int, clocking, station float64) (solid.Mesh, error) {
		sin, cos := math.Sincos(clocking)
		return joinery.Sink(solid.Vec{0, 0, station}, solid.Vec{cos, sin, 0}, printed(w.Holes, model.ForHead), float64(v.Heads[end]), f.radius()+slotOut)
	})...)
}

// eachScrew makes a body at each of a panel's screws; ends are counted from the foot.
func (f *feature) eachScrew(w Window, body func(end int, clocking, station float64) (solid.Mesh, error)) []solid.Mesh {
	o := w.Window.Opening
	inset := float64(model.LedgeWide) / 2
	turn := (float64(o.Wide)/2 - inset) / float64(w.Window.Radius)
	rise := float64(o.High)/2 - inset
	var out []solid.Mesh
	for k, s := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
		hole, err := body(k/2, o.Clocking+s[0]*turn, float64(o.Station)+s[1]*rise)
		if err != nil {
			panic("carve: internal error: screw hole: " + err.Error())
		}
		out = append(out, hole)
	}
	return out
}

// sheet is the wall that a panel is cut from, less the gap all round; its wedge is
// cut by panelled.
func sheet(in Input) turning.Region {
	gap := in.Windows[0].gap()
	o := in.Windows[0].Window.Opening
	from, to := float64(o.Station-o.High/2)+gap, float64(o.Station+o.High/2)-gap
	slice := turning.Ring(from, to, 0, 2*in.radius())
	return turning.Under(in.Raw.Outer).Intersect(slice).Minus(turning.Under(in.cavity()))
}

// gap is what lies between a panel and its opening on each side.
func (w Window) gap() float64 {
	return float64(w.Fit.Bore.Nominal-w.Fit.MaleSize.Nominal) / 2
}

// panelled is a panel's sheet between its sides.
func panelled(in Input) (solid.Mesh, error) {
	w := in.Windows[0]
	half := (float64(w.Window.Opening.Wide)/2 - w.gap()) / float64(w.Window.Radius)
	half = math.Min(half, math.Pi/2)
	span := in.Piece.Span
	return joinery.Wedge(w.Window.Opening.Clocking, half, float64(span.From)-1, float64(span.To)+1, wedgeBore, in.radius()+slotOut)
}
