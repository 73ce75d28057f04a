// Package matgrid finds the printed grid of a cutting mat, and the graduation of a
// ruler, in a photograph: nobody picks anything.
//
// In goes the upright photograph, out come the crossings of the mat's lines to a
// twentieth of a pixel, each with its whole numbers on the mat, and what one
// step is in millimetres, or the reason why that is not known.
//
// The steps, each in its own file:
//
//   - alg_ridge: places on thin lines, with their direction, in the reduced picture
//   - alg_seed: a window where two families of lines stand square to each other
//     with one even spacing
//   - alg_grow: from crossing to neighbouring crossing, each foretold and then
//     measured; diagonals, scratches and the object's edges find no place in it
//   - alg_bridge: a camera through all of them foretells what lies beyond rulers,
//     objects and shadows
//   - alg_refine, alg_middle: each crossing again in the full picture, as where two
//     fitted lines meet
//   - alg_border, alg_inch: the strokes that the mat's border is divided by, which
//     keep step with the grid
//   - alg_printless, alg_rows: with the grid's lines painted over, patches of even
//     short strokes in rows: a ruler's
//   - alg_ticks, alg_longer: each stroke by its phase, and which of them are longer
//   - alg_step: what border and ruler together say of a step in millimetres
//
// Ridges are those of Steger, IEEE PAMI 20 (1998) 113-125.
package matgrid
