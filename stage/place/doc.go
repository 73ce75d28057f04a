// Package place finds room inside the build: a bay for each component and a way
// for each wire.
//
// In: the design with its components, openings, core and stand, the raw shapes
// and the division. Out: [model.Places], in the build's frame, mm. A bay is the
// component's box with a millimetre all round and room for plugs at the ends of
// its length. It lies against the wall of its part, off the core or the stand's
// post, off core rings, sockets, spigots, tongues, ledges and the other bays. A
// strip is wound round inside the wall, in as many turns as it needs. What sits
// in an opening has its bay behind it.
//
// A component without a wished place is looked for on a grid of 5 mm and 15°, in
// both positions that lay its height along the radius; the place nearest to what
// it is wired to and to the openings with panels is taken, the larger components
// first. Bays name the openings and loose joints that lead to them; whether what
// must be reached is reached, and when, is assembly's to say.
//
// Ways run from bay to bay along the wall, and need a hole in each core ring that
// they pass. Lengths have 15 % and 100 mm of slack (common practice).
package place
