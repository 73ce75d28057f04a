package camera

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Mark is a point of the mat found in the photograph.
type Mark struct {
	Px r2.Vec // pixel in the upright image
	Mm r2.Vec // place on the mat, mm of its print
}

// Tick is a graduation of a ruler found in the photograph.
type Tick struct {
	Px r2.Vec  // pixel in the upright image
	At float64 // along the ruler, mm, from wherever counting began

	// Edge tells the ruler's rows of ticks apart. Those of one edge lie on a
	// straight line, other edges are parallel to it and may count from elsewhere.
	Edge int
}

// What cannot be fitted, and why.
var (
	ErrTooFew     = errors.New("camera: fewer than four marks")
	ErrOnALine    = errors.New("camera: the marks lie on a line")
	ErrCoincident = errors.New("camera: two marks at the same place")
	ErrNotFinite  = errors.New("camera: a mark or tick that is not a number, or beyond any picture")
	ErrRuler      = errors.New("camera: the ticks are not those of a ruler in millimetres")
	ErrNoSolution = errors.New("camera: no camera above the mat sees these marks")
)

// Known is what is known before the fit.
type Known struct {
	Width, Height int // upright image, pixels

	// F35 is the 35 mm equivalent focal length (EXIF tag FocalLengthIn35mmFilm),
	// mm; zero where the photograph does not say.
	F35 float64

	// Sigma is how well one coordinate of a mark or a tick is expected to be known,
	// pixels; zero: half a pixel, a hand under a loupe.
	Sigma float64

	// PrintTrue takes the mat's print at its word where no ruler tells. Else it is
	// true to [MatDoubt] in each direction.
	PrintTrue bool

	Ticks []Tick // of one ruler that lies on the mat; it is believed before the print

	// CentreDoubt, pixels, and BendDoubt, of K1 and K2, are standard uncertainties
	// where the camera is no phone's; zero: a phone's.
	CentreDoubt, BendDoubt float64

	// Refocus, as a share, and Steady, pixels, are how far focal length and centre of
	// several photographs differ, standard; zero: the lens is fixed. A lens that
	// focuses by moving changes its image distance, and one that is steadied its centre.
	Refocus, Steady float64

	MatsDiffer bool // several photographs show mats of different print
}

// Standard uncertainties of what is known beforehand.
const (
	// handSigma: under a loupe a crossing is picked to about half a pixel.
	handSigma = 0.5
	// MatDoubt is that of a mat's print, each direction, as a share. Common
	// practice; a guess until logged.
	MatDoubt = 0.002
	// f35Doubt: the EXIF figure is a whole number of millimetres (26 is 25.5 to
	// 26.5, 1.1 % standard) of a nominal lens; with focusing, 2 %.
	f35Doubt = 0.02
	// noF35Doubt and noF35: a photograph that says nothing may come from any lens
	// between a phone's wide one and a short portrait lens (24 to 70 mm); the
	// logarithmic half width of that span is 0.53, here taken as 1.3 of a standard deviation.
	noF35Doubt = 0.4
	noF35      = 35
	// centreDoubt: the principal point of a phone's camera lies within about 1 %
	// of the image's width of its centre, pixels for an image of 3000.
	centreDoubt = 20.0 / 3000
	// bendDoubt of K1 and K2: more than a 10 % bend at unit radius is a fisheye
	// lens, which this model does not serve.
	bendDoubt = 0.1
)

// FocalPixels turns a 35 mm equivalent focal length into pixels. The convention
// is CIPA DCG-001 (2016): equal angle of view over the *diagonal*, which is
// 43.27 mm on 36 × 24 mm film. Taken over the width the same figure is 4 % lower
// for a 4:3 image.
func FocalPixels(f35 float64, width, height int) float64 {
	return f35 * math.Hypot(float64(width), float64(height)) / math.Hypot(36, 24)
}

// Fitted is a camera with what is known of its error. Its world is in true
// millimetres: X and Y of the print times Scale.
type Fitted struct {
	Camera

	Cov   [Params][Params]float64 // (JᵀWJ)⁻¹ with the priors, order of [Camera.Nudge]
	Sigma float64                 // standard deviation of one coordinate of a mark, pixels
	RMS   float64                 // of the residuals' lengths over all marks, pixels
	Off   []float64               // length of each mark's residual, in the order given

	// Together is how much further neighbouring marks err together than independent
	// ones would; Cov takes them as that much less sure. One: they are independent.
	Together float64

	Scale       [2]float64 // true millimetres a printed one, in X and Y
	ScaleDoubt  [2]float64 // standard uncertainty; zero: the print was taken as true
	UnevenDoubt float64    // standard uncertainty of Scale[0] - Scale[1]
	Ruler       Ruler      // zero: no ticks were given

	FocalKnown bool // whether the photograph said its focal length
	modes      [][Params]float64
}

// Ruler is what is known of the ruler. How high it lies is told from its looking
// larger than the mat, so by its prior and the print's together.
type Ruler struct {
	Height, HeightDoubt float64    // of the middle of its ticks above the mat, mm
	Lean, LeanDoubt     float64    // rise a millimetre along it
	Span                float64    // from the first tick to the last, mm
	Sigma               [2]float64 // of a tick along the ruler and across, pixels
	RMS                 float64    // of the residuals' lengths, pixels
	Off                 []float64  // length of each tick's residual, in the order given
}

// Modes returns the camera displaced by one standard deviation along each of
// the independent directions of its covariance. For any quantity q of the
// camera, u²(q) = Σ (q(mode) - q(camera))², to first order (JCGM 100:2008, 5.2.2,
// with the correlations taken up by the directions). What is not known of the
// mat's print and of the ruler is in them: true millimetres stay true, and the
// camera stands higher.
func (f *Fitted) Modes() []Camera {
	out := make([]Camera, len(f.modes))
	for i, m := range f.modes {
		out[i] = f.Nudge(m)
	}
	return out
}
