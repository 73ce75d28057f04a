package firmware_test

import "fmt"

// sent is what a strip was sent at once: red, green, blue of each pixel, and when
// its first bit rose, s.
type sent struct {
	At     float64
	Pixels [][3]uint8
}

// Limits of a pixel's line, ns: WS2812B data sheets of the later revisions (T0H 220
// to 380, T1H and all lows 580 to 1000, more than 280 µs low latches). The first
// revision's (T0H 250 to 550, T0L 700 to 1000, T1H 650 to 950, T1L 300 to 600, 50
// µs) agree but for 25 ns of T1L, and no number of cycles meets both there.
const (
	zeroLeast, zeroMost = 220.0, 380.0
	oneLeast, oneMost   = 580.0, 1000.0
	lowLeast, lowMost   = 580.0, 1000.0
	latch               = 280_000.0
)

// readFrames reads the strip's line with a clock of so many clockMHz, by the limits of the
// data sheet.
func readFrames(all []edge, mhz float64) ([]sent, error) {
	r := reader{ns: 1000 / mhz}
	for _, e := range all {
		if e.Pin != "D6" {
			continue
		}
		if err := r.edge(e); err != nil {
			return r.frames, err
		}
	}
	return r.frames, r.flush()
}

type reader struct {
	ns         float64
	bits       []uint8
	began      int64
	rise, fall int64
	frames     []sent
}

func (r *reader) edge(e edge) error {
	switch e.State {
	case "1":
		low := float64(e.Cycle-r.fall) * r.ns
		switch {
		case len(r.bits) == 0:
		case low > latch:
			if err := r.flush(); err != nil {
				return err
			}
		case low < lowLeast || low > lowMost:
			return fmt.Errorf("bit %d is followed by %v ns low: neither %v to %v nor more than %v", len(r.bits)-1, low, lowLeast, lowMost, latch)
		}
		if len(r.bits) == 0 {
			r.began = e.Cycle
		}
		r.rise = e.Cycle
	case "0":
		if r.rise == 0 {
			return nil // becomes an output
		}
		r.fall = e.Cycle
		switch high := float64(e.Cycle-r.rise) * r.ns; {
		case high >= zeroLeast && high <= zeroMost:
			r.bits = append(r.bits, 0)
		case high >= oneLeast && high <= oneMost:
			r.bits = append(r.bits, 1)
		default:
			return fmt.Errorf("bit %d is high for %v ns: neither %v to %v nor %v to %v", len(r.bits), high, zeroLeast, zeroMost, oneLeast, oneMost)
		}
	default:
		return fmt.Errorf("the strip's line is let go: %s", e.State)
	}
	return nil
}

// flush ends a frame; green comes before red, the highest bit first.
func (r *reader) flush() error {
	if len(r.bits)%24 != 0 {
		return fmt.Errorf("a frame of %d bits", len(r.bits))
	}
	if len(r.bits) == 0 {
		return nil
	}
	f := sent{At: float64(r.began) * r.ns / 1e9, Pixels: make([][3]uint8, len(r.bits)/24)}
	for i := range f.Pixels {
		for c, channel := range [3]int{1, 0, 2} {
			for b := range 8 {
				f.Pixels[i][channel] = f.Pixels[i][channel]<<1 | r.bits[24*i+8*c+b]
			}
		}
	}
	r.frames, r.bits = append(r.frames, f), nil
	return nil
}

// pull is a line of the player pulled low and let go again, s.
type pull struct {
	Line     int
	From, To float64
}

// readPulls are what the lines of sound did; a line that is driven high or pulled up
// is an error, since the player's logic may be one of 3.3 V.
func readPulls(all []edge) ([]pull, error) {
	var out []pull
	open := map[string]int{}
	for _, e := range all {
		if e.Pin[0] != 'C' {
			continue
		}
		switch e.State {
		case "0":
			open[e.Pin] = len(out)
			out = append(out, pull{Line: int(e.Pin[1] - '0'), From: e.seconds()})
		case "Z":
			if k, ok := open[e.Pin]; ok {
				out[k].To = e.seconds()
			}
		default:
			return out, fmt.Errorf("%s is %s at %.3f s", e.Pin, e.State, e.seconds())
		}
	}
	return out, nil
}
