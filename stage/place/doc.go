// Package place finds room inside the build: a bay for each component and a way
// for each wire.
//
// In: the design with its components, openings, core and stand, the raw shapes
// and the division. Out: [model.Places], in the build's frame, mm. A bay is the
// component's box with a millimetre all round and room for plugs at the ends of
// its length. It lies against the wall of its part, off the core or the stand's
// post, off core rings, sockets, spigots, collars, tongues, ledges, parts that lie
// inside, and the other bays. A strip is wound round inside the wall, in as many
// turns as it needs, or laid along it. What sits in an opening has its bay behind
// it.
//
// A component without a wished place is looked for on a grid of 5 mm and 15°,
// first flat on the wall, then in all six positions, and last at each millimetre
// and degree and wherever it would touch what is there; the place nearest to what
// it is wired to and to what leads to it is taken, the larger components first.
// Bays name the openings and loose joints through which the component passes and
// is within reach. Whether what must be reached is reached, and when, is
// assembly's to say, for it knows what is glued.
//
// Ways run from bay to bay along the wall. Between rooms all share one duct, which
// takes a hole in each core ring, and where a joint leaves no room beside the core
// goes through the core and out again by a hole in it. Lengths have 15 % and
// 100 mm of slack (common practice).
package place
