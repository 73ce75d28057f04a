// Package firmware writes the controller's program in C for the ATmega328P at
// 16 MHz, and computes the same frames in Go, integer for integer, so that the two
// can be compared.
//
// The program uses no interrupt, so nothing can disturb the pixels' timing: it
// polls Timer1, which counts 4 µs. Every 20 ms it sends a frame and then works out
// the next. A pixel's bit takes 21 cycles, between bytes too: 0 is high for 5
// (312.5 ns), 1 for 11 (687.5 ns). Buttons pull to ground and count when they have
// been steady for 10 ms and four looks. A sound is started by pulling its line low
// for 125 ms and up to a frame more; the line is never driven high. The limiter
// scales a frame whose channels add up to more than the supply is to give.
package firmware

// Pins of the controller.
const (
	StripPin     = "D6 (PD6)"
	FirstButton  = 0 // of port B: D8 …
	FirstTrigger = 0 // of port C: A0 …
	MostButtons  = 5
	MostSounds   = 4
	// MostPixels is what the frame rate and the 2048 bytes of memory allow.
	MostPixels = 144
	// FramesPerSecond of the program.
	FramesPerSecond = 50
)
