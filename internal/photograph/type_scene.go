package photograph

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Version is raised whenever a seed comes to show something else, so that what was
// drawn before is drawn again.
const Version = 2

// Scene is everything that a photograph shows. The zero value shows nothing;
// [Seeded] makes one.
type Scene struct {
	Name  string
	Seed  uint64
	Traps []string // what makes it hard, in the words of the accuracy notes

	w, h        int // upright picture
	orientation int // EXIF
	f35         int // EXIF; 0: the photograph does not say
	quality     int // of the JPEG
	lens        lens
	film        film
	mat         mat
	table       table
	matless     bool // all is table
	ruler       *ruler
	card        *card
	body        *body
	finish      finish
	light       light
}

// colour is linear light or a share of it reflected: red, green, blue.
type colour [3]float64

func (c colour) times(k float64) colour { return colour{c[0] * k, c[1] * k, c[2] * k} }

func (c colour) mix(d colour, t float64) colour {
	return colour{c[0] + t*(d[0]-c[0]), c[1] + t*(d[1]-c[1]), c[2] + t*(d[2]-c[2])}
}

func (c colour) by(d colour) colour { return colour{c[0] * d[0], c[1] * d[1], c[2] * d[2]} }

func (c colour) plus(d colour) colour { return colour{c[0] + d[0], c[1] + d[1], c[2] + d[2]} }

// mat is a cutting mat and its print. Printed mm times scale are true mm.
type mat struct {
	name           string // of its colour
	base, ink      colour
	inch           bool
	pitch          float64 // printed, mm
	cols, rows     int
	scale          [2]float64
	border         float64 // from the grid to the edge, mm
	thin, bold     float64 // line widths, mm
	every          int     // the bold ones
	strength       float64 // of thin lines' ink
	texture, blots float64
	sheet          *sheet
	prints         []stroke
	words          []label
}

type stroke struct {
	ax, ay, bx, by, width, strength float64
	worn                            bool
}

type label struct {
	text         string
	x, y, height float64
	quarters     int
}

// table is what the mat lies on.
type table struct {
	light, dark   colour
	angle, stripe float64 // of the grain: direction, and how much of it is seen
	fine          float64
}

// ruler is a strip 1 mm thick with a tick each mm along both edges, 0 to 300.
// Its own x runs along the lower edge from tick 0.
type ruler struct {
	x, y, angle float64 // degrees
	steel       bool
	base, ink   colour
	sheet       *sheet

	lift, lean float64 // of tick 0 above where it should lie, mm, and rise a millimetre along
}

// Measures of a ruler, mm.
const (
	rulerLength = 300
	rulerMargin = 5 // beyond the first and the last tick
	rulerWidth  = 28.0
	rulerThick  = 1.0
)

// card is a flat sheet that hides a corner of the mat.
type card struct {
	x, y, angle, w, h float64 // radians; the middle and half sides
	colour            colour
}

// finish is how a surface turns light back.
type finish struct {
	name    string
	diffuse colour
	mirror  colour // at normal incidence; grows towards 1 at grazing angles
	rough   float64
	bands   []band
	turned  float64 // marks of a lathe: tilt of the normal, radians
}

// band is a stretch of another colour.
type band struct {
	from, to float64
	colour   colour
}

// lamp is a round area light that faces the mat's middle.
type lamp struct {
	at     r3.Vec
	size   float64 // radius, mm
	power  float64 // irradiance at the middle, of 1 in all
	colour colour
}

type light struct {
	middle  r3.Vec
	lamps   []lamp
	ambient colour
	seed    uint64
}

// film is what lens and sensor do to light.
type film struct {
	blur       float64 // standard deviation, px
	vignette   float64 // share lost in the corners
	shot, read float64 // noise: variance is shot·light + read²
	balance    colour
	exposure   float64
	seed       uint64
}
