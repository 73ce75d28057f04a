// Package lane draws a result: the lanes of the page and the drawings of the
// book are the same functions.
//
// A lane answers one question about every place along the build. It takes the
// result and a [View] (which stations, how wide, in which units, folded or not)
// and gives a scene; all lanes of one View put a station at the same X, so that
// they can be read straight down one line. Each has a table with the same facts
// for readers who cannot see it.
//
//	Elevation       upper half outside, lower half in section, to scale
//	Pieces          a box a print: name, printer, hours, grams
//	Walls           the thinnest wall along the build, against what prints
//	Core and stock  lengths to scale, saw cuts, what is seated
//	Fits            a spread for every joint
//	Weight          mass from the floor, centre of mass, grips
//	Finish          zones and coats
//	Error           the doubt of the radius at full size
//	Lights & sound  components, wires, lamps
//
// [Prepare] makes a result ready: what takes long is found once, and lanes redraw
// from the [Prepared] at once. [All] lists the lanes; [Axis] is their scale of
// stations, [Sheet] all of them on one drawing.
//
// For paper: [Arrangement] is the elevation with its parts numbered, [Standing]
// the build upright beside a person, [PieceView] a piece for its page, [Days] the
// plan at a glance. What is no stretch of the body is drawn from its solid, hidden
// edges left out.
//
// Figures of the reference, which grow with the enlargement, are pencil and
// italic; figures of the shop are ink and upright. Nothing is computed but
// places on the paper, and how much of the result's mass lies below a place.
package lane
