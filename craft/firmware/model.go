package firmware

import (
	"scalewright/model"
)

// Player works out frames as the controller does.
type Player struct {
	p      model.Program
	show   int
	frame  uint16
	random uint16
}

// NewPlayer begins as the controller does when it is switched on.
func NewPlayer(p model.Program) *Player { return &Player{p: p, show: p.Idle, random: 0xACE1} }

// Press starts the show of a button.
func (a *Player) Press(button int) {
	for i, s := range a.p.Shows {
		if s.Button == button {
			a.show, a.frame = i, 0
		}
	}
}

// Next is the next frame: red, green, blue of each pixel.
func (a *Player) Next() [][3]uint8 {
	out := make([][3]uint8, a.p.Pixels)
	if a.show >= 0 {
		s := a.p.Shows[a.show]
		for i := range out {
			v := a.value(s, i)
			for c := range 3 {
				x := uint16(s.Colour[c]) * v >> 8
				out[i][c] = uint8(x * (uint16(s.Level) + 1) >> 8)
			}
		}
		a.limit(out)
		a.frame++
		if s.Lasts > 0 && int(a.frame) >= s.Lasts {
			a.show, a.frame = a.p.Idle, 0
		}
	}
	return out
}

// value is a pixel's brightness of 0 to 256.
func (a *Player) value(s model.ProgramShow, i int) uint16 {
	period := uint16(max(1, s.Period))
	phase := a.frame % period
	switch s.Pattern {
	case model.Breathe:
		x := uint16(uint32(phase) * 512 / uint32(period))
		if x > 255 {
			x = 511 - x
		}
		return 16 + (x*x>>8)*15/16
	case model.Flicker:
		return 96 + a.next()%160
	case model.Run:
		n := uint16(a.p.Pixels)
		head := uint16(uint32(phase) * uint32(n) / uint32(period))
		behind := (head + n - uint16(i)) % n
		if behind < 4 {
			return 256 >> behind
		}
		return 0
	case model.Steady:
	}
	return 256
}

// next is a linear feedback shift register of 16 bits, taps 16, 14, 13, 11, which
// runs through 65,535 states.
func (a *Player) next() uint16 {
	low := a.random & 1
	a.random >>= 1
	if low != 0 {
		a.random ^= 0xB400
	}
	return a.random
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
