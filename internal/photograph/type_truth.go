package photograph

import (
	"image"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Truth is what a photograph shows, in the layout of its JSON file.
type Truth struct {
	Name        string      `json:"name"`
	Image       string      `json:"image"`
	Mask        string      `json:"mask"`
	Size        [2]int      `json:"upright_size"`
	Orientation int         `json:"exif_orientation"`
	Conventions string      `json:"conventions"`
	Camera      TruthCamera `json:"camera"`
	Mat         TruthMat    `json:"mat"`
	Ruler       TruthRuler  `json:"ruler"`
	Object      TruthObject `json:"object"`

	// Coverage is how much of each upright pixel the object covers, 255 for all; it
	// is the file that Mask names.
	Coverage *image.Gray `json:"-"`
}

// TruthCamera is the lens and where it stood.
type TruthCamera struct {
	F         float64       `json:"f_px"`
	Cx        float64       `json:"cx"`
	Cy        float64       `json:"cy"`
	K1        float64       `json:"k1"`
	K2        float64       `json:"k2"`
	F35       *int          `json:"exif_f35"` // null: the photograph does not say
	R         [3][3]float64 `json:"R_world_to_cam"`
	Rvec      [3]float64    `json:"rvec"`
	Tvec      [3]float64    `json:"tvec"`
	Centre    [3]float64    `json:"centre_mm"`
	Height    float64       `json:"height_above_mat_mm"`
	Tilt      float64       `json:"tilt_deg"`
	LateralCA float64       `json:"lateral_ca"`
	Blur      float64       `json:"blur_sigma_px"`
}

// TruthMat is the mat's print.
type TruthMat struct {
	Pitch     float64    `json:"pitch_mm"`
	Cols      int        `json:"cols"`
	Rows      int        `json:"rows"`
	Scale     [2]float64 `json:"printed_scale_true"`
	Colour    string     `json:"color"`
	Crossings []Crossing `json:"crossings"`
	Suggested []Crossing `json:"suggested_marks"`
}

// Crossing is where two lines of the grid cross, within the picture.
type Crossing struct {
	I       int        `json:"i"`
	J       int        `json:"j"`
	Printed [2]float64 `json:"printed_mm"`
	True    [2]float64 `json:"true_mm"`
	Px      [2]float64 `json:"px"`
	Visible bool       `json:"visible"`
}

// TruthRuler is the ruler, where there is one.
type TruthRuler struct {
	Present   bool       `json:"present"`
	Thickness float64    `json:"thickness_mm"`
	Width     float64    `json:"width_mm"`
	TickPlane float64    `json:"tick_plane_height_mm"`
	Ticks     []Tick     `json:"ticks"`
	Pose      *RulerPose `json:"pose"`
}

// Tick is where a ruler's line meets the ruler's edge.
type Tick struct {
	Edge     string     `json:"edge"`
	Mm       int        `json:"mm"`
	Px       [2]float64 `json:"px"`
	InFrame  bool       `json:"in_frame"`
	Occluded bool       `json:"occluded_by_object"`
}

// RulerPose is where tick 0 of the lower edge lies, and which way the ruler runs,
// degrees.
type RulerPose struct {
	P   [2]float64 `json:"p"`
	Ang float64    `json:"ang"`
}

// TruthObject is the body and how it lies.
type TruthObject struct {
	Kind      string         `json:"kind"`
	Finish    string         `json:"finish"`
	Length    float64        `json:"length_mm"`
	MaxRadius float64        `json:"max_radius_mm"`
	P0        [3]float64     `json:"axis_P0_mm"`
	Dir       [3]float64     `json:"axis_dir"`
	Start     float64        `json:"axis_height_start_mm"`
	End       float64        `json:"axis_height_end_mm"`
	Dip       float64        `json:"out_of_level_deg"`
	StartPx   [2]float64     `json:"axis_start_px"`
	EndPx     [2]float64     `json:"axis_end_px"`
	Fins      []TruthFin     `json:"fins"`
	Plates    []TruthPlate   `json:"plates"`
	FinNote   string         `json:"fin_note"`
	Segments  []TruthSegment `json:"segments"`
	Dense     TruthDense     `json:"profile_dense"`
}

// TruthFin is a flat fin along the axis.
type TruthFin struct {
	Clock     float64      `json:"clock_deg"`
	Thickness float64      `json:"thickness"`
	Poly      [][2]float64 `json:"poly"`
}

// TruthPlate is a prism across the axis.
type TruthPlate struct {
	From    float64 `json:"s0"`
	To      float64 `json:"s1"`
	Sides   int     `json:"sides"`
	Apothem float64 `json:"apothem"`
	Clock   float64 `json:"clock_deg"`
}

// TruthSegment is a line or an arc of the profile.
type TruthSegment struct {
	Kind string   `json:"type"`
	S0   float64  `json:"s0"`
	R0   float64  `json:"r0"`
	S1   float64  `json:"s1"`
	R1   float64  `json:"r1"`
	CS   *float64 `json:"cs,omitempty"`
	CR   *float64 `json:"cr,omitempty"`
	R    *float64 `json:"R,omitempty"`
	CCW  *bool    `json:"ccw,omitempty"`
}

// TruthDense is the profile's radius at even steps.
type TruthDense struct {
	Step   float64   `json:"step_mm"`
	Radius []float64 `json:"radius_mm"`
}

const conventions = "All px are in the upright image (EXIF orientation applied), pixel centres at integers, origin top left. " +
	"World: mm, X,Y on mat top surface, Z up. Camera: x_cam=R(X-C); x=Xc/Zc; distorted = (x,y)*(1+k1 r^2+k2 r^4) with r^2=x^2+y^2 (OpenCV convention); " +
	"u=f*xd+cx. Profile: station s along the axis from P0 in direction u, radius r."

const finNote = "clock_deg measured from horizontal v=(-sin b,cos b,0) towards w=u x v; poly in (s,radius)"

func round4(x float64) float64 { return math.Round(x*1e4) / 1e4 }

func (s *Scene) px(p r3.Vec) [2]float64 {
	u, v := s.lens.project(p)
	return [2]float64{round4(u), round4(v)}
}

func (s *Scene) inFrame(px [2]float64) bool {
	return px[0] >= 0 && px[1] >= 0 && px[0] <= float64(s.w-1) && px[1] <= float64(s.h-1)
}

// hidden reports whether the body stands between the camera and a place.
func (s *Scene) hidden(p r3.Vec) bool {
	o := s.body.own(s.lens.c)
	h, ok := s.body.meet(o, s.body.ownDir(r3.Sub(p, s.lens.c)))
	return ok && h.t < 1
}

func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func (s *Scene) truth() Truth {
	return Truth{
		Name: s.Name, Image: s.Name + ".jpg", Mask: s.Name + "_mask.png",
		Size: [2]int{s.w, s.h}, Orientation: s.orientation, Conventions: conventions,
		Camera: s.cameraTruth(), Mat: s.matTruth(), Ruler: s.rulerTruth(), Object: s.objectTruth(),
	}
}

func (s *Scene) cameraTruth() TruthCamera {
	l := &s.lens
	out := TruthCamera{
		F: l.f, Cx: l.cx, Cy: l.cy, K1: l.k1, K2: l.k2,
		R:      [3][3]float64{array(l.r[0]), array(l.r[1]), array(l.r[2])},
		Centre: array(l.c), Height: l.c.Z, Blur: s.film.blur,
		Tilt: math.Acos(min(1, -l.r[2].Z)) * 180 / math.Pi,
	}
	if s.f35 > 0 {
		out.F35 = &s.f35
	}
	for i, d := range l.r {
		out.Tvec[i] = -r3.Dot(d, l.c)
	}
	// Rodrigues' vector: the axis from the odd part, the angle from the trace.
	r := out.R
	odd := r3.Vec{X: r[2][1] - r[1][2], Y: r[0][2] - r[2][0], Z: r[1][0] - r[0][1]}
	angle := math.Atan2(norm(odd), r[0][0]+r[1][1]+r[2][2]-1)
	if n := norm(odd); n > 1e-9 { // half a turn exactly never comes from a leaning camera
		out.Rvec = array(r3.Scale(angle/n, odd))
	}
	return out
}

func (s *Scene) matTruth() TruthMat {
	m := &s.mat
	if s.matless {
		return TruthMat{Scale: [2]float64{1, 1}}
	}
	out := TruthMat{Pitch: m.pitch, Cols: m.cols, Rows: m.rows, Scale: m.scale, Colour: m.name}
	for i := 0; i <= m.cols; i++ {
		for j := 0; j <= m.rows; j++ {
			c := Crossing{I: i, J: j, Printed: [2]float64{float64(i) * m.pitch, float64(j) * m.pitch}}
			c.True = [2]float64{c.Printed[0] * m.scale[0], c.Printed[1] * m.scale[1]}
			p := r3.Vec{X: c.True[0], Y: c.True[1]}
			c.Px = s.px(p)
			if !s.inFrame(c.Px) {
				continue
			}
			c.Visible = !s.hidden(p) && !s.covered(p)
			out.Crossings = append(out.Crossings, c)
		}
	}
	out.Suggested = suggest(out.Crossings)
	return out
}

// covered reports whether a card or the ruler hides a place of the mat.
func (s *Scene) covered(p r3.Vec) bool {
	if c := s.card; c != nil {
		sin, cos := math.Sincos(c.angle)
		x, y := p.X-c.x, p.Y-c.y
		if math.Abs(x*cos+y*sin) <= c.w && math.Abs(y*cos-x*sin) <= c.h {
			return true
		}
	}
	r := s.ruler
	if r == nil {
		return false
	}
	for _, z := range [2]float64{0, rulerThick} { // below it, or behind its top
		q := r3.Add(p, r3.Scale(z/s.lens.c.Z, r3.Sub(s.lens.c, p)))
		sin, cos := math.Sincos(r.angle * math.Pi / 180)
		x, y := q.X-r.x, q.Y-r.y
		x, y = x*cos+y*sin, y*cos-x*sin
		if x >= -rulerMargin && x <= rulerLength+rulerMargin && y >= 0 && y <= rulerWidth {
			return true
		}
	}
	return false
}

// suggest picks sixteen crossings that can be seen, spread over the picture: the
// nearest to a raster of four by four.
func suggest(all []Crossing) (out []Crossing) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range all {
		if c.Visible {
			for k := range 2 {
				lo[k], hi[k] = min(lo[k], c.Px[k]), max(hi[k], c.Px[k])
			}
		}
	}
	taken := map[[2]int]bool{}
	for q := range 16 {
		x := lo[0] + (hi[0]-lo[0])*float64(q%4)/3
		y := lo[1] + (hi[1]-lo[1])*float64(q/4)/3
		best, far := -1, math.Inf(1)
		for k, c := range all {
			if d := math.Hypot(c.Px[0]-x, c.Px[1]-y); c.Visible && d < far && !taken[[2]int{c.I, c.J}] {
				best, far = k, d
			}
		}
		if best >= 0 {
			taken[[2]int{all[best].I, all[best].J}] = true
			out = append(out, all[best])
		}
	}
	return out
}

func (s *Scene) rulerTruth() TruthRuler {
	out := TruthRuler{Thickness: rulerThick, Width: rulerWidth, TickPlane: rulerThick, Ticks: []Tick{}}
	r := s.ruler
	if r == nil {
		return out
	}
	out.Present, out.Pose = true, &RulerPose{P: [2]float64{r.x, r.y}, Ang: r.angle}
	sin, cos := math.Sincos(r.angle * math.Pi / 180)
	for _, edge := range []string{"lower", "upper"} {
		y := 0.0
		if edge == "upper" {
			y = rulerWidth
		}
		for mm := 0; mm <= rulerLength; mm++ {
			if mm > 10 && mm < rulerLength-10 {
				continue
			}
			x := float64(mm)
			p := r3.Vec{X: r.x + x*cos - y*sin, Y: r.y + x*sin + y*cos, Z: r.top(x)}
			t := Tick{Edge: edge, Mm: mm, Px: s.px(p), Occluded: s.hidden(p)}
			t.InFrame = s.inFrame(t.Px)
			out.Ticks = append(out.Ticks, t)
		}
	}
	return out
}

func (s *Scene) objectTruth() TruthObject {
	b := s.body
	end := r3.Add(b.p0, r3.Scale(b.length, b.u))
	out := TruthObject{
		Kind: b.kind, Finish: s.finish.name, Length: b.length, MaxRadius: b.rmax,
		P0: array(b.p0), Dir: array(b.u), Start: b.p0.Z, End: end.Z, Dip: b.dip * 180 / math.Pi,
		StartPx: s.px(b.p0), EndPx: s.px(end), FinNote: finNote,
		Fins: []TruthFin{}, Plates: []TruthPlate{}, Dense: TruthDense{Step: 0.25},
	}
	for _, f := range b.fins {
		out.Fins = append(out.Fins, TruthFin{Clock: f.clock * 180 / math.Pi, Thickness: f.thick, Poly: f.poly})
	}
	for _, p := range b.plates {
		out.Plates = append(out.Plates, TruthPlate{From: p.s0, To: p.s1, Sides: p.sides, Apothem: p.apothem, Clock: p.clock * 180 / math.Pi})
	}
	for _, g := range b.segs {
		t := TruthSegment{Kind: "line", S0: g.s0, R0: g.r0, S1: g.s1, R1: g.r1}
		if g.arc {
			t.Kind, t.CS, t.CR, t.R, t.CCW = "arc", &g.cs, &g.cr, &g.radius, &g.ccw
		}
		out.Segments = append(out.Segments, t)
	}
	for k := 0; float64(k)*out.Dense.Step <= b.length+1e-9; k++ {
		out.Dense.Radius = append(out.Dense.Radius, round4(radiusAt(b.segs, min(b.length, float64(k)*out.Dense.Step))))
	}
	return out
}
