package job_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// guestVolume is what the pieces of a guest hold.
func guestVolume(r job.Result, guest string) (sum float64) {
	for i, p := range r.Division.Pieces {
		if p.ID.Part == guest {
			sum += r.Carved[i].Solid.Volume()
		}
	}
	return sum
}

// A ring on the body's side ends at the body's cylinder: its volume is the integral
// over its annulus of its top less the cylinder, x = √(R² - y²), by the midpoint rule
// in polar coordinates.
func TestSaddleByQuadrature(t *testing.T) {
	t.Parallel()
	r := mustRun(t, ringed(model.Butt))
	const body, inner, outer, first, ratio = 21 * 6.0, 4 * 6.0, 7 * 6.0, 19 * 6.0, 6.0
	top := func(radius float64) float64 { // of the outline 3.4, 7 to 4.4, 6.4
		if radius <= 6.4*ratio {
			return first + 4.4*ratio
		}
		return first + (3.4+(7-radius/ratio)/0.6)*ratio
	}
	want := 0.0
	const rings, turns = 600, 720
	for i := range rings {
		radius := inner + (outer-inner)*(float64(i)+0.5)/rings
		for k := range turns {
			y := radius * math.Sin(2*math.Pi*(float64(k)+0.5)/turns)
			want += (top(radius) - math.Max(first, math.Sqrt(body*body-y*y))) * radius * (outer - inner) / rings * 2 * math.Pi / turns
		}
	}
	// Flats of 0.02 mm on the body and on the ring leave a thousandth.
	if got := guestVolume(r, "porthole"); math.Abs(got-want) > 2e-3*want {
		t.Errorf("the ring holds %v mm³, want %v", got, want)
	}
}

// A handle whose axis runs beside the body's own: of each of its discs the body takes
// the lens that two circles share,
// r² acos(d/r) - d√(r² - d²) + R² acos(D/R) - D√(R² - D²), d + D = a,
// d = (a² + r² - R²)/2a.
func TestHandleAlongTheBody(t *testing.T) {
	t.Parallel()
	handle := func(kind model.JointKind) job.Input {
		in := coarse()
		in.Declared.Parts = append(in.Declared.Parts, model.DeclaredPart{
			ID: "handle", Form: model.Turned, Outline: "handle", At: finding.Place{File: "build.yaml", Path: "parts.handle"},
			Axis: &model.DeclaredAxis{Position: [3]unit.Dim{unit.Shop(132), unit.Shop(0), unit.Ref(80)}, Direction: [3]float64{0, 0, 1}},
		})
		in.Outlines["handle"] = model.DeclaredOutline{Owner: unit.OfShop, Path: model.Lines(0, 15, 90, 15)}
		in.Declared.Joints = append(in.Declared.Joints, model.DeclaredJoint{ID: "grip", Between: [2]string{"handle", "body"}, Kind: kind})
		return in
	}
	r := mustRun(t, handle(model.Butt))
	mustAssemble(t, r)
	const body, rod, a, long = 126.0, 15.0, 132.0, 90.0
	d := (a*a + rod*rod - body*body) / (2 * a)
	segment := func(r, d float64) float64 { return r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d) }
	want := (math.Pi*rod*rod - segment(rod, d) - segment(body, a-d)) * long
	if got := guestVolume(r, "handle"); math.Abs(got-want) > 5e-3*want {
		t.Errorf("the handle holds %v mm³, want %v", got, want)
	}
	pinned, err := job.Run(t.Context(), handle(model.Dowelled))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(codes(pinned.Findings), "blocker fastener-no-foot") {
		t.Errorf("no end of it is a foot, and it says %v", codes(pinned.Findings))
	}
}

// The gap on each side of a tongue in its slot, on the finished meshes inside the
// wall, is half of what fit leaves between them: 1.095 mm at layers of 3 mm.
func TestClearanceOfTongues(t *testing.T) {
	t.Parallel()
	r := mustRun(t, finned())
	k := solid.Kernel{}
	mesh := func(id model.PieceID) solid.Mesh {
		i := slices.IndexFunc(r.Division.Pieces, func(p model.Piece) bool { return p.ID == id })
		return r.Carved[i].Solid
	}
	if len(r.Division.Tabs) == 0 {
		t.Fatal("no tongue")
	}
	for _, tab := range r.Division.Tabs {
		fit := r.Fits.Of(tab.ID)[0]
		// Of the guest, what lies in the wall, well under the face that it ends at.
		shaft, err := solid.Tube(solid.TubeSize{Bore: float64(tab.Tip) - 5, Outer: float64(tab.Tip) + 5.8, Low: float64(tab.Span.From), High: float64(tab.Span.To), Segments: 720})
		if err != nil {
			t.Fatal(err)
		}
		tongue, err := k.Intersect(t.Context(), mesh(tab.Guest), shaft)
		if err != nil {
			t.Fatal(err)
		}
		gap, err := k.Clearance(t.Context(), tongue, mesh(tab.Host))
		want := float64(fit.Bore.Nominal-fit.MaleSize.Nominal) / 2
		if err != nil || math.Abs(gap.Distance-want) > 1e-6 || math.Abs(want-1.095) > 1e-9 {
			t.Errorf("%s: a gap of %v, fit says %v; %v", tab.ID, gap.Distance, want, err)
		}
	}
}
