// Package measure turns a photograph of a turned object on a cutting mat into
// its profile in millimetres, each radius with its doubt.
//
// In go the photograph's bytes and, where the mat's grid is not found by itself,
// marks: places of its print picked by hand. What is known besides may be told: a
// rough outline of where
// the object lies, which end is station 0, what the view hides, what the object
// rests on. Out come the profile, the outline of lines and arcs drawn through
// it, the length, and how the camera and the axis stood. Lengths are millimetres
// of the reference object.
//
// The steps, each in its own file:
//
//   - decode: upright, 8-bit; light is made linear wherever it is averaged
//   - alg_grid: the mat's grid and a ruler, by package craft/matgrid
//   - the camera, by package craft/camera, from crossings, ticks and the EXIF focal length
//   - alg_background, alg_mask: the bare mat's colour over the picture, what is not mat
//   - alg_look, alg_visible, alg_calm: what each pixel looks like against the mat; where
//     printed lines show there is mat, where they should and do not, something lies;
//     the lines taken out of what is seen
//   - alg_ruler, alg_ruler_face, alg_odds: the ruler told from the object; what each look says
//   - alg_cut: object and mat parted, by turns with what the looks say. alg_fan,
//     alg_costs, alg_turned, alg_midplane: as what is alike on both sides of an axis;
//     alg_standing, alg_part: what stands out of that
//   - alg_contour, alg_path, alg_edge: the outline, moved along its normals to the
//     steepest change, and to where a blurred step between two side colours fits best
//   - alg_revolution: an edge point and its tangent give station and radius of a
//     body of revolution in closed form, parallax and all
//   - alg_pose: the axis' plane from the symmetry of the two sides
//   - alg_rest, alg_rings: the axis' height from lying on the mat; its slope from
//     two touching places or, where fins hold it up, from the ellipses of rims and rings
//   - alg_wing: what stands out of a turned body and hides it
//   - alg_profile, alg_segments: radius at even stations, lines and arcs through them: where
//     the fit starts
//   - type_form, alg_touch: the outline as lines, arcs and faces with sharp corners, and
//     which of them a ray comes nearest to, hidden ones and rims included
//   - alg_fit, alg_normals: outline and axis together from the rays of all edge points
//   - alg_improve, alg_trials: other parts of the outline, where that shortens its description
//   - alg_refute: touching places that the rims deny
//   - alg_finish, alg_doubt: all that in turns; doubt of the fit, and of what all stations
//     share (camera, height, slope) by fitting again with each displaced
//
// Sources stand beside the formulae.
package measure
