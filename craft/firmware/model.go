package firmware

import (
	"math"

	"scalewright/model"
)

// Player works out frames as the controller does.
type Player struct {
	p     model.Program
	show  int
	frame uint16
	left  int
}

// NewPlayer begins as the controller does when it is switched on.
func NewPlayer(p model.Program) *Player {
	a := &Player{p: p}
	a.begin(p.Idle)
	return a
}

// Press starts the show of a button.
func (a *Player) Press(button int) {
	for i, s := range a.p.Shows {
		if s.Button == button {
			a.begin(i)
		}
	}
}

func (a *Player) begin(show int) {
	a.show, a.frame, a.left = show, 0, 0
	if show >= 0 {
		a.left = a.p.Shows[show].Lasts
	}
}

// Next is the next frame: red, green, blue of each pixel.
func (a *Player) Next() [][3]uint8 {
	out := make([][3]uint8, a.p.Pixels)
	if a.show < 0 {
		return out
	}
	s := a.p.Shows[a.show]
	value := a.pattern(s)
	for i := range out {
		v := value(i)
		for c := range 3 {
			full := uint16(uint32(s.Colour[c]) * uint32(v) >> 8)
			out[i][c] = uint8(full * (uint16(s.Level) + 1) >> 8)
		}
	}
	a.limit(out)
	a.frame++
	if a.frame == math.MaxUint16-math.MaxUint16%period(s) {
		a.frame = 0
	}
	if s.Lasts > 0 {
		if a.left--; a.left == 0 {
			a.begin(a.p.Idle)
		}
	}
	return out
}

func period(s model.ProgramShow) uint16 { return uint16(max(1, s.Period)) }

// pattern is the brightness of 0 to 256 that a pixel has in this frame.
func (a *Player) pattern(s model.ProgramShow) func(pixel int) uint16 {
	phase, long, n := uint32(a.frame%period(s)), uint32(period(s)), a.p.Pixels
	switch s.Pattern {
	case model.Breathe:
		x := uint16(phase * 512 / long)
		if x > 255 {
			x = 511 - x
		}
		x = 16 + (x*x>>8)*15/16
		return func(int) uint16 { return x }
	case model.Flicker:
		half := max(1, period(s)/2)
		t, x := a.frame/half, uint16(uint32(a.frame%half)*256/uint32(half))
		return func(i int) uint16 {
			mixed := (uint16(noise(i, t))*(256-x) + uint16(noise(i, t+1))*x) >> 8
			return 96 + mixed*160>>8
		}
	case model.Run:
		head := int(phase * uint32(n) / long)
		return func(i int) uint16 {
			if behind := (head + n - i) % n; behind < 4 {
				return 256 >> behind
			}
			return 0
		}
	case model.Steady:
	}
	return func(int) uint16 { return 256 }
}

// noise is a value of 0 to 255 for a pixel and a time: a product of 16 bits with
// its upper bits folded into the lower, so that neighbours have nothing in common.
func noise(pixel int, t uint16) uint8 {
	x := t*0x9E37 + uint16(pixel)*0x79B9
	x ^= x >> 7
	x *= 0x2C1B
	x ^= x >> 9
	return uint8(x)
}

// limit scales a frame whose channels add up to more than is allowed.
func (a *Player) limit(frame [][3]uint8) {
	sum := uint32(0)
	for _, p := range frame {
		sum += uint32(p[0]) + uint32(p[1]) + uint32(p[2])
	}
	if sum <= uint32(a.p.Limit) {
		return
	}
	k := uint32(a.p.Limit) * 256 / sum
	for i := range frame {
		for c := range frame[i] {
			frame[i][c] = uint8(uint32(frame[i][c]) * k >> 8)
		}
	}
}
