package measure

import (
	"scalewright/craft/camera"
	"scalewright/craft/limb"
	"scalewright/model"
)

// Result is what one photograph says. Its JSON is that of the measure command,
// findings apart.
type Result struct {
	Units    string         `json:"units"`
	View     string         `json:"view"` // "side": a turned body lying on the mat
	Grid     Grid           `json:"grid"`
	Scale    MatScale       `json:"mat_scale"`
	Camera   Camera         `json:"camera"`
	Axis     Axis           `json:"axis"`
	Length   Length         `json:"length_mm"`
	Profile  []Point        `json:"profile"`
	Segments []Segment      `json:"segments"`
	Outlines []Outline      `json:"outlines"` // of all that lies on the mat, as flat things, largest first
	Trace    model.Trace    `json:"-"`        // the same for the stages after
	Seen     Seen           `json:"-"`        // where its edge is in the photograph
	Lies     limb.Pose      `json:"-"`        // how the body lay before the camera
	Found    model.Outline  `json:"-"`        // the outline before the maker's corrections
	Features []Featured     `json:"-"`        // what was marked on it
	Unseen   []model.Hidden `json:"-"`        // stretches that neither the view nor the maker tells
	Lens     camera.Camera  `json:"-"`        // the camera, over the mat
	Marks    []camera.Mark  `json:"-"`        // what it was fitted to
	Contour  [][2]float64   `json:"-"`        // the closed edge of the whole object, pixels
	Lost     bool           `json:"-"`        // no profile: the findings say why
}

// Grid is what was known of the mat's grid.
type Grid struct {
	Found     bool    `json:"found"` // by itself; else from marks picked by hand
	PitchMM   float64 `json:"pitch_mm"`
	Crossings int     `json:"crossings"`
	RMSPx     float64 `json:"rms_px"`
}

// What sets the scale of a photograph.
const (
	ByRuler  = "ruler"        // that lies on the mat
	ByPrint  = "print"        // of the mat, taken as true to [camera.MatDoubt]
	ByMarks  = "marks"        // picked by hand, the print taken at its word
	ByLength = "known_length" // between two places of the photograph
)

// MatScale is true millimetres a printed one, along the mat's X and Y, each with its
// standard uncertainty. By says what told it; without a mat both are one.
type MatScale struct {
	By string  `json:"by"`
	X  float64 `json:"x"`
	Y  float64 `json:"y"`
	UX float64 `json:"u_x"`
	UY float64 `json:"u_y"`
}

// scaleOf is what a fit says of the scale.
func scaleOf(fit *camera.Fitted, found bool) MatScale {
	s := MatScale{By: ByPrint, X: fit.Scale[0], Y: fit.Scale[1], UX: fit.ScaleDoubt[0], UY: fit.ScaleDoubt[1]}
	switch {
	case len(fit.Ruler.Off) > 0:
		s.By = ByRuler
	case !found:
		s.By = ByMarks
	}
	return s
}

// Camera is how the photograph was taken.
type Camera struct {
	K1       float64 `json:"k1"`
	K2       float64 `json:"k2"`
	HeightMM float64 `json:"height_mm"`
	TiltDeg  float64 `json:"tilt_deg"`
}

// Axis is how the body lay: the height of its axis above the mat at both ends.
type Axis struct {
	StartMM float64 `json:"height_start_mm"`
	EndMM   float64 `json:"height_end_mm"`
}

// Length is a length and its standard uncertainty.
type Length struct {
	Value float64 `json:"value"`
	U     float64 `json:"u"`
}

// Point is the profile at one station; U is a standard uncertainty.
type Point struct {
	Station float64 `json:"station_mm"`
	Radius  float64 `json:"radius_mm"`
	U       float64 `json:"u_mm"`
}

// Segment is a line or an arc of the outline, each place as [station, radius].
type Segment struct {
	Kind   string      `json:"kind"`
	From   [2]float64  `json:"from"`
	To     [2]float64  `json:"to"`
	Centre *[2]float64 `json:"centre,omitempty"`
	Radius float64     `json:"radius_mm,omitempty"`
}

// Outline is the closed outline of a flat thing on the mat, anticlockwise, mm on
// the mat. Names count from 1, the largest first.
type Outline struct {
	Name     string    `json:"name"`
	Closed   bool      `json:"closed"`
	Segments []Segment `json:"segments"`
}
