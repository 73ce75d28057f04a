package job_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/craft/turning"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/carve"
	"scalewright/unit"
)

// tube is two parts of one cylinder, R 100, joined by a spigot over a core on
// two rings: every volume in it has a closed form.
func tube() job.Input {
	in := coarse()
	d := &in.Declared
	d.Enlarge.Ratio = 1
	d.Joints = nil
	d.Core.From, d.Core.To = unit.Ref(40), unit.Ref(200)
	d.Parts = []model.DeclaredPart{
		{ID: "a", From: unit.Ref(0), To: unit.Ref(100), Wall: unit.Shop(3), Open: []string{model.Foot}},
		{ID: "b", From: unit.Ref(100), To: unit.Ref(220), Wall: unit.Shop(3), Open: []string{model.Nose}},
	}
	in.Outlines["outlines/rocket.yaml"] = model.DeclaredOutline{Path: model.Lines(0, 100, 220, 100)}
	return in
}

// The pieces' volume is the parts' volume and the joint's as one solid, less the
// core's bores and the clearances. Closed forms: disc and frustum (Pappus).
func TestVolumeOfATubeByHand(t *testing.T) {
	t.Parallel()
	r := mustRun(t, tube())
	mustAssemble(t, r)
	if len(r.Division.Pieces) != 4 || len(r.Fits.Fits) != 5 {
		t.Fatalf("pieces %v, fits %v", r.Division.Pieces, r.Fits.Fits)
	}
	const outer, wall, root, ring, lead, gap = 100.0, 3.0, 6.0, 6.0, 0.8, 0.5
	cavity := r.Raw[0].FootDown[0].Radius
	if cavity > outer-wall || cavity < outer-wall-0.03 {
		t.Fatalf("cavity of radius %v, want %v and a trace less", cavity, outer-wall)
	}
	engage := float64(r.Division.Seams[0].Engage)
	half := func(l unit.Length) float64 { return float64(l) / 2 }
	spigot, first, second := half(r.Fits.Fits[0].MaleSize.Nominal), half(r.Fits.Fits[1].MaleSize.Nominal), half(r.Fits.Fits[3].MaleSize.Nominal)
	core := half(r.Fits.Fits[2].Bore.Nominal) * solid.FacetScale(carve.Segments(2*outer))
	disc := func(h, out, in float64) float64 { return math.Pi * h * (out*out - in*in) }
	frustum := func(h, a, b float64) float64 { return math.Pi * h * (a*a + a*b + b*b) / 3 }
	bore := spigot - wall

	parts := disc(220, outer, cavity)
	joint := disc(root+engage, cavity, bore) + // as one solid, root and slope below it
		disc(cavity-bore, cavity, 0) - frustum(cavity-bore, bore, cavity)
	rings := 2 * disc(ring, cavity, 0)
	bores := 2 * disc(ring, core, 0)
	clearances := disc(engage, cavity, spigot) + disc(ring, cavity, first) + disc(ring, cavity, second) +
		disc(lead, spigot, 0) - frustum(lead, spigot-lead, spigot) + // tip of the spigot
		frustum(lead, cavity, cavity+lead) - disc(lead, cavity, 0) // mouth of the socket
	want := parts + joint + rings - bores - clearances

	got := 0.0
	for _, c := range r.Carved {
		got += c.Volume
	}
	got /= turning.Share(carve.Segments(2 * outer))
	if math.Abs(got-want) > 1e-6*want {
		t.Errorf("pieces hold %v mm³, want %v: parts %v + joint %v + rings %v - bores %v - clearances %v",
			got, want, parts, joint, rings, bores, clearances)
	}
}

// The same on the rocket, by a slow and obvious integral: at each station the
// material is written down from the rules in carve's and fit's doc, as intervals
// of radius, without turning's regions, loops or meshes.
func TestVolumeOfTheRocketByStations(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	mustAssemble(t, r)
	flats := carve.Segments(unit.Length(2 * r.Design.Outline.MaxRadius()))
	for i, piece := range r.Division.Pieces {
		c := r.Carved[i]
		want := 0.0
		for _, s := range slices20th(c.Loops) {
			for _, band := range materialAt(r, piece, (s[0]+s[1])/2, flats) {
				want += math.Pi * (band[1]*band[1] - band[0]*band[0]) * (s[1] - s[0])
			}
		}
		if got := c.Volume / turning.Share(flats); math.Abs(got-want) > 1e-5*want {
			t.Errorf("%s holds %v mm³, the rules make it %v", piece.ID, got, want)
		}
	}
}

// slices20th are slices of at most 1/20 mm that no corner of the loops divides.
func slices20th(loops [][]model.Point) (all [][2]float64) {
	var at []float64
	for _, loop := range loops {
		for _, p := range loop {
			at = append(at, p.Station)
		}
	}
	slices.Sort(at)
	for i := 1; i < len(at); i++ {
		n := math.Ceil((at[i] - at[i-1]) * 20)
		for k := range int(n) {
			step := (at[i] - at[i-1]) / n
			all = append(all, [2]float64{at[i-1] + float64(k)*step, at[i-1] + float64(k+1)*step})
		}
	}
	return all
}

// bands are intervals of radius, sorted and apart.
type bands [][2]float64

func (b bands) and(in, out float64) bands {
	if out <= in {
		return b
	}
	var all bands
	for _, x := range b {
		if x[1] < in || x[0] > out {
			all = append(all, x)
			continue
		}
		in, out = min(in, x[0]), max(out, x[1])
	}
	all = append(all, [2]float64{in, out})
	slices.SortFunc(all, func(x, y [2]float64) int { return int(math.Copysign(1, x[0]-y[0])) })
	return all
}

func (b bands) beyond(r float64) bands {
	var all bands
	for _, x := range b {
		if x[1] > r {
			all = append(all, [2]float64{max(x[0], r), x[1]})
		}
	}
	return all
}

func (b bands) within(r float64) bands {
	var all bands
	for _, x := range b {
		if x[0] < r {
			all = append(all, [2]float64{x[0], min(x[1], r)})
		}
	}
	return all
}

// materialAt is what a foot-down piece holds at a station.
func materialAt(r job.Result, piece model.Piece, z float64, flats int) bands {
	const root, ring, lead, gap = 6.0, 6.0, 0.8, 0.5
	var part model.Part
	var raw model.Raw
	for i, p := range r.Design.Parts {
		if p.ID == piece.ID.Part {
			part, raw = p, r.Raw[i]
		}
	}
	wall := float64(part.Wall)
	coreAt := func(id string) float64 {
		for _, f := range r.Fits.Fits {
			if f.Male == "core" && f.Female == id {
				return float64(f.Bore.Nominal) / 2 * solid.FacetScale(flats)
			}
		}
		return 0
	}
	sizes := func(s model.Seam) (male, bore float64) {
		for _, f := range r.Fits.Of(s.ID) {
			male = float64(f.MaleSize.Nominal) / 2
			if f.Female == piece.ID.String() {
				bore = float64(f.Bore.Nominal) / 2
			}
		}
		return male, bore
	}
	switch piece.ID.Kind {
	case model.CoreRing:
		return bands{{coreAt(piece.ID.String()), float64(r.Fits.Of(piece.ID.String())[0].MaleSize.Nominal) / 2}}
	case model.CollarRing:
		for _, s := range r.Division.Seams {
			if s.Kind == model.Collar && s.Above.Part == piece.ID.Part && s.Above.From == piece.ID.From {
				male, _ := sizes(s)
				end := min(z-float64(piece.Span.From), float64(piece.Span.To)-z)
				return bands{{male - wall, male - max(0, lead-end)}}
			}
		}
	}
	from, to := float64(piece.Span.From), float64(piece.Span.To)
	radius := func(line []model.Point) float64 { return model.LowestBetween(line, z, z) }
	var b bands
	outer := radius(raw.Outer)
	if z < to {
		b = b.and(radius(raw.Cavity(piece.Direction)), outer)
	}
	var sockets, mouths []float64
	for _, s := range r.Division.Seams {
		at, deep := float64(s.Station), float64(s.Engage)+gap
		male, bore := sizes(s)
		switch {
		case s.Above == piece.ID:
			for _, seat := range r.Division.Seats {
				if seat.Host == piece.ID && seat.Span.From == s.Station+s.Engage {
					deep += ring
				}
			}
			if z > at+deep {
				continue
			}
			if widest := model.HighestBetween(raw.Cavity(piece.Direction), at, at+deep) - bore; widest > 3*wall {
				b = b.and(bore, min(outer, bore+wall))
			} else if widest > 0 {
				b = b.and(bore, outer)
			}
			sockets, mouths = append(sockets, bore), append(mouths, bore+max(0, lead-(z-from)))
		case s.Below == piece.ID && s.Kind == model.Spigot && z > to:
			b = b.and(male-wall, male).within(male - max(0, lead-(to+float64(s.Engage)-z)))
		case s.Below == piece.ID && s.Kind == model.Spigot:
			b = b.and(male-wall+max(0, to-root-z), outer)
		case s.Below == piece.ID && s.Kind == model.Collar:
			b = b.and(bore+max(0, to-deep-z), outer)
			if z > to-deep {
				sockets, mouths = append(sockets, bore), append(mouths, bore+max(0, lead-(to-z)))
			}
		}
	}
	for _, s := range r.Division.Seats {
		if s.Host == piece.ID && z > float64(s.Span.From) && z < float64(s.Span.To)+gap {
			sockets = append(sockets, float64(r.Fits.Of(s.Ring.String())[0].Bore.Nominal)/2)
		}
	}
	for _, bore := range slices.Concat(sockets, mouths) {
		b = b.beyond(bore)
	}
	return b
}

// Sections of the solids themselves, flats and all, lie inside one another: each
// ring of one runs clear of each ring of another.
func TestSolidsDoNotMeet(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	for _, s := range r.Division.Seams {
		for _, z := range []float64{-0.9, -0.5, -0.1, 0.1, 0.5, 0.9} {
			at := float64(s.Station) + z*float64(s.Engage)
			type owned struct {
				in, out float64
				piece   model.PieceID
			}
			var rings []owned
			for _, c := range r.Carved {
				if float64(c.Reach.From) > at || float64(c.Reach.To) < at {
					continue
				}
				layers, err := solid.Sections(c.Solid, []float64{at})
				if err != nil {
					t.Fatal(err)
				}
				var radii []float64 // of the loops; even: the hole's flats, odd: the outside's corners
				for _, loop := range layers[0].Loops {
					least, most := math.Inf(1), 0.0
					for i, p := range loop {
						q := loop[(i+1)%len(loop)]
						least = min(least, math.Hypot((p[0]+q[0])/2, (p[1]+q[1])/2))
						most = max(most, math.Hypot(p[0], p[1]))
					}
					radii = append(radii, least, most)
				}
				slices.Sort(radii)
				if len(layers[0].Loops)%2 == 1 { // solid to the axis
					radii = append([]float64{0, 0}, radii...)
				}
				for i := 0; i+3 < len(radii); i += 4 {
					rings = append(rings, owned{radii[i], radii[i+3], c.Piece})
				}
			}
			slices.SortFunc(rings, func(a, b owned) int { return int(math.Copysign(1, a.in-b.in)) })
			for i := 1; i < len(rings); i++ {
				if rings[i].in < rings[i-1].out {
					t.Errorf("at %v %s from %v meets %s to %v", at, rings[i].piece, rings[i].in, rings[i-1].piece, rings[i-1].out)
				}
			}
			if z > 0 && len(rings) < 2 {
				t.Errorf("at %v only %d rings", at, len(rings))
			}
		}
	}
}
