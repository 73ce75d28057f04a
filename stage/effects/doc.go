// Package effects works out lights and sound: currents, wires, run time, and the
// program of the controller.
//
// In: components, shows, the ways of the wires, the site. Out: currents in mA,
// gauges with the drop at the largest current, hours on a power bank, and the
// program in the controller's own units, which craft/firmware writes in C.
//
// A pixel draws 1 mA and a sixteenth of a mA a step of each channel
// (craft/electric); the budget at white is 60 mA, since lots differ from 33 to 53.
// The limiter keeps the strip under what the supply gives, less what all else
// draws and a fifth in hand.
//
// Wires lose no more than 3 % at the largest current, 5 % at the most, in the
// thinnest gauge of the table that does, carries it in a bundle, and bears in free
// air what the fuse lets through: a fuse of IEC 60127 holds half as much again as
// its rating. Copper is at 40 °C or 15 K over the warmest air, since it lies in a
// closed body. The rail is at 4.75 V at the supply's worst (USB BC 1.2), so that 5 %
// leave the 4.5 V that blue pixels, 16 MHz and the brown-out fuse want.
//
// A bank gives 85 % of its energy; one that is asked for less than 100 mA may
// switch off (makers' notes: 60 to 90 mA), and what keeps it on counts.
package effects
