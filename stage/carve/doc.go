// Package carve makes each piece: the only stage that cuts bores, sockets,
// spigots, collars and core rings.
//
// In: one piece with its part's raw shape, the seams and seats it takes part in
// and their fits, the core, and how many flats a circle gets. Out: the piece in
// its place in the build, mm: the loops of its half plane, the solid they turn
// into, its reach and its thinnest wall. All features of a turned piece are
// turned with it, so no solid boolean is needed; every circle of a build has the
// same flats at the same clocking, so mating faces lie flat to flat.
//
// Where a socket is narrower than the cavity behind it, it gets a land: a ring
// of the part's wall, or solid to the shell where the gap is small or the shell
// too far to hold a tube. What adds goes before what cuts, so that nothing fills
// what a neighbour needs. Undersides of lands and roots are drawn at 45° so that
// they print without support. Finding: the piece would be none, or several.
//
// What is turned round its own axis is made in the half plane too and then moved
// to its place. What is flat or imported is cut out of its part's solid by two
// planes, and bored for the core by a boolean.
package carve
