package photograph

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Names of what makes a photograph hard: the traps of the accuracy notes and of
// the photographs' own kinds.
const (
	trapMisprint      = "misprinted mat"           // with a ruler, which is right
	trapMisprintAlone = "misprinted mat, no ruler" // then nothing in the picture tells
	trapHalfInch      = "half-inch grid"           //
	trapInch          = "inch grid"                //
	trapDark          = "dark on dark"             //
	trapSteel         = "steel on grey"            //
	trapDiscs         = "two thin discs"           //
	trapNoRuler       = "no ruler"                 //
	trapTilt          = "heavy tilt"               // 5° and more
	trapSlope         = "strongly out of level"    // 2.5° and more
	trapHue           = "of the mat's own hue"     //
	trapPartMat       = "mat partly hidden or out" //
	trapRuler         = "ruler near or overlapped" //
	trapNoEXIF        = "no EXIF focal length"     //
	trapTurned        = "EXIF turned"              //
	trapMirror        = "mirror"                   // brass or steel that shows lamps and mat
	trapFins          = "fins"                     //
	trapGrooves       = "grooves or plate"         //
	trapTwelve        = "twelve megapixels"        //
	trapNone          = "none of these"            //
)

// forced is the trap that a seed is about; every cycle has them all. Others come
// by chance beside it.
var forced = []string{
	trapNone, trapMisprint, trapHalfInch, trapDark, trapSteel, trapDiscs, trapNoRuler, trapTilt, trapSlope, trapHue,
	trapPartMat, trapRuler, trapNoEXIF, trapInch, trapFins, trapMirror, trapGrooves, trapTurned, trapMisprintAlone, trapTwelve,
}

// maker draws one scene from a seed.
type maker struct {
	*rand.Rand
	s    *Scene
	trap string
}

func (m *maker) between(lo, hi float64) float64 { return lo + (hi-lo)*m.Float64() }

func (m *maker) chance(p float64) bool { return m.Float64() < p }

// also is a trap beside the seed's own; a seed without traps has none.
func (m *maker) also(p float64) bool { return m.trap != trapNone && m.chance(p) }

// whole is a number between, in steps of a tenth.
func (m *maker) tenth(lo, hi float64) float64 { return math.Round(m.between(lo, hi)*10) / 10 }

func pick[T any](m *maker, from ...T) T { return from[m.IntN(len(from))] }

// Seeded chooses everything in a photograph. Any twenty seeds in a row hold every
// trap at least once.
func Seeded(seed uint64) Scene {
	s := Scene{Name: fmt.Sprintf("seed%04d", seed), Seed: seed}
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 0x5ca1e)), s: &s, trap: forced[seed%uint64(len(forced))]}
	m.object()
	m.chooseMat()
	m.chooseFinish()
	m.chooseTable()
	for try := 0; ; try++ {
		m.place()
		m.chooseRuler()
		if m.chooseCamera() {
			break
		}
		if try == 200 {
			panic(fmt.Sprintf("photograph: internal error: seed %d: no camera shows the body whole", seed))
		}
	}
	m.chooseCard()
	m.chooseLight()
	m.chooseFilm()
	s.Traps = s.traps(m.trap)
	return s
}

// Sized is the same scene in a smaller or a larger picture, wide pixels along its
// longer side.
func (s Scene) Sized(wide int) Scene {
	k := float64(wide) / float64(max(s.w, s.h))
	s.w, s.h = int(math.Round(float64(s.w)*k)), int(math.Round(float64(s.h)*k))
	s.lens.f *= k
	// Pixel centres are whole numbers: the picture's corner is at -½.
	s.lens.cx, s.lens.cy = (s.lens.cx+0.5)*k-0.5, (s.lens.cy+0.5)*k-0.5
	return s
}

func (s *Scene) traps(about string) []string {
	var out []string
	add := func(yes bool, name string) {
		if yes && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	wrong := math.Abs(s.mat.scale[0]-1) > 0.002 || math.Abs(s.mat.scale[1]-1) > 0.002
	add(wrong && s.ruler != nil, trapMisprint)
	add(wrong && s.ruler == nil, trapMisprintAlone)
	add(s.mat.pitch == 12.7, trapHalfInch)
	add(s.mat.pitch == 25.4, trapInch)
	add(about == trapDark || s.mat.base[1] < 0.1 && s.finish.diffuse[1] < 0.05, trapDark)
	add(s.finish.name == "steel" && s.mat.name == "grey", trapSteel)
	add(s.body.kind == "discs", trapDiscs)
	add(s.ruler == nil, trapNoRuler)
	add(-s.lens.r[2].Z < math.Cos(5*math.Pi/180), trapTilt)
	add(math.Abs(s.body.dip) > 2.5*math.Pi/180, trapSlope)
	add(s.finish.name == "mat's hue", trapHue)
	add(s.card != nil || about == trapPartMat, trapPartMat)
	add(about == trapRuler, trapRuler)
	add(s.f35 == 0, trapNoEXIF)
	add(s.orientation != 1, trapTurned)
	add(s.finish.mirror[0] > 0.3, trapMirror)
	add(len(s.body.fins) > 0, trapFins)
	add(len(s.body.plates) > 0, trapGrooves)
	add(s.w*s.h > 10e6, trapTwelve)
	add(len(out) == 0, trapNone)
	return out
}

// place lays the body somewhere inside the grid.
func (m *maker) place() {
	mat, b := &m.s.mat, m.s.body
	w, h := float64(mat.cols)*mat.pitch*mat.scale[0], float64(mat.rows)*mat.pitch*mat.scale[1]
	const margin = 12.0
	for {
		azimuth := m.between(0, 2*math.Pi)
		b.lay(m.between(0, w), m.between(0, h), azimuth)
		inside := true
		for _, p := range b.hull() {
			// Parallax moves the top outwards by about a tenth of its height.
			if p.X < margin || p.Y < margin || p.X > w-margin || p.Y > h-margin {
				inside = false
				break
			}
		}
		if inside {
			return
		}
	}
}

// chooseCamera stands the camera so that the body is whole in the picture.
func (m *maker) chooseCamera() bool {
	s := m.s
	s.w, s.h = 3000, 2250
	if m.trap == trapTwelve {
		s.w, s.h = 4000, 3000
	}
	s.orientation = 1
	if m.trap == trapTurned || m.also(0.2) {
		s.orientation = pick(m, 3, 6, 8)
	}
	if m.chance(0.12) { // held upright
		s.w, s.h = s.h, s.w
	}
	b := s.body
	across := 2 * b.reach
	diagonal := math.Hypot(float64(s.w), float64(s.h))
	f35 := 0
	for try := range 160 {
		// Phones are wide, cameras long; a lens is kept for some tries, or small bodies
		// would all be seen through long ones.
		if try%16 == 0 {
			f35 = pick(m, 24, 24, 25, 26, 26, 26, 27, 28, 28, 35, 40, 48, 50, 52, 70)
		}
		height := m.between(350, 900)
		f := float64(f35) * diagonal / math.Hypot(36, 24)
		if share := across * f / height / float64(max(s.w, s.h)); share < 0.2 || share > 0.7 {
			continue
		}
		s.f35 = f35
		if m.trap == trapNoEXIF || m.also(0.08) {
			s.f35 = 0
		}
		l := &s.lens
		l.f = f * (1 + m.between(-0.02, 0.02))
		l.cx = float64(s.w-1)/2 + m.between(-20, 20)
		l.cy = float64(s.h-1)/2 + m.between(-20, 20)
		l.k1 = pick(m, m.between(-0.06, 0.06), m.between(-0.02, 0.03))
		l.k2 = -l.k1 * m.between(0.2, 0.5)
		// Where roll is nought x runs to the right and y up.
		tilt := m.between(0, 5)
		switch {
		case m.trap == trapTilt:
			tilt = m.between(6, 8)
		case m.chance(0.2):
			tilt = m.between(0, 0.8) // then the grid does not tell the focal length
		}
		roll := m.between(-25, 25)
		if m.chance(0.35) {
			roll += 90 * float64(1+m.IntN(3))
		} else if m.chance(0.15) {
			roll = m.between(0, 360)
		}
		if s.w < s.h {
			roll += 90
		}
		l.aim(roll*math.Pi/180, tilt*math.Pi/180, m.between(0, 2*math.Pi))
		// The photographer looks at the body, or between it and the middle of the mat.
		wide := float64(s.w) / f * height
		mid := b.world(b.middle())
		aim := r3.Vec{X: mid.X + m.between(-0.2, 0.2)*wide, Y: mid.Y + m.between(-0.2, 0.2)*wide}
		if m.trap != trapPartMat && m.chance(0.7) {
			to := m.between(0.4, 1)
			w, h := float64(s.mat.cols)*s.mat.pitch, float64(s.mat.rows)*s.mat.pitch
			aim = r3.Vec{X: mid.X + to*(w/2-mid.X), Y: mid.Y + to*(h/2-mid.Y)}
		}
		back := height / -l.r[2].Z
		l.c = r3.Sub(aim, r3.Scale(back, l.r[2]))
		if s.whole() && s.enough() {
			return true
		}
	}
	return false
}

// whole reports whether the body lies in the picture with some room.
func (s *Scene) whole() bool {
	const room = 90
	for _, p := range s.body.hull() {
		u, v := s.lens.project(p)
		if u < room || v < room || u > float64(s.w)-room || v > float64(s.h)-room {
			return false
		}
	}
	return true
}

// enough reports whether the grid about the body is seen: at least five lines each
// way, or no one could say how the mat lies.
func (s *Scene) enough() bool {
	m := &s.mat
	cols, rows := map[int]bool{}, map[int]bool{}
	n := 0
	for i := 0; i <= m.cols; i++ {
		for j := 0; j <= m.rows; j++ {
			p := r3.Vec{X: float64(i) * m.pitch * m.scale[0], Y: float64(j) * m.pitch * m.scale[1]}
			if u, v := s.lens.project(p); u > 0 && v > 0 && u < float64(s.w) && v < float64(s.h) && !s.hidden(p) && !s.covered(p) {
				cols[i], rows[j] = true, true
				n++
			}
		}
	}
	return len(cols) >= 5 && len(rows) >= 5 && n >= 30
}

func (m *maker) chooseLight() {
	s := m.s
	mid := s.body.world(s.body.middle())
	mid.Z = 0
	s.light = light{middle: mid, seed: m.Uint64()}
	sky := m.between(0.25, 0.5)
	warm := m.between(-0.05, 0.05)
	s.light.ambient = colour{sky * (1 - warm), sky, sky * (1 + 1.3*warm)}
	n := 1 + m.IntN(2)
	azimuth := m.between(0, 2*math.Pi)
	for k := range n {
		far := m.between(600, 1200)
		el := m.between(35, 75) * math.Pi / 180
		az := azimuth + float64(k)*m.between(1.5, 4)
		power := (1 - sky) * pick(m, 1.0, 1.0)
		if n == 2 {
			power *= []float64{0.65, 0.35}[k]
		}
		w := m.between(-0.04, 0.06)
		s.light.lamps = append(s.light.lamps, lamp{
			at: r3.Add(mid, r3.Vec{
				X: far * math.Cos(el) * math.Cos(az), Y: far * math.Cos(el) * math.Sin(az), Z: far * math.Sin(el),
			}),
			size: far * m.between(0.05, 0.22), power: power, colour: colour{1 + w, 1, 1 - 1.2*w},
		})
	}
}

func (m *maker) chooseFilm() {
	w := m.between(-0.05, 0.05)
	m.s.film = film{
		blur: m.between(0.6, 1.2), vignette: m.between(0.05, 0.3),
		shot: m.between(0.00005, 0.0004), read: m.between(0.0006, 0.0025),
		balance: colour{1 + w, 1, 1 - w}, exposure: m.between(0.75, 1.05), seed: m.Uint64(),
	}
	m.s.quality = 88 + m.IntN(8)
}
