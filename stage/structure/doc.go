// Package structure weighs the build, finds how it is carried and whether it
// stands.
//
// In: the pieces as carved and printed, the core, components, the stand and the
// site. Out: masses in g with their doubt, the centre of mass in mm, what has to
// be lifted; the core's droop and stress when it is carried by two hands, stored
// so and raised; on its stand the angle at which it tips, the push that tips it,
// the stress in post and core, the top's sway and how far it stands off plumb.
//
// The core alone bears: a stack of rings with glued seams does not carry its
// shell's stiffness (common practice). Beams by craft/beam. Tipping: the angle is
// atan(b/h) less the floor's tilt, b the way from the centre of mass to the
// tipping edge, h its height; 10° in every direction and a push of 13 % of the
// weight up to 250 N at no more than 1.5 m, IEC 62368-1 ed. 3 as quoted in a
// standards mailing list; 15° and a leaning hand where the public touches it
// (common practice). The post touches the core in two places; under standing load
// both have the modulus of their creep. Lifting by craft/handling. A filament is
// safe to ten kelvin below the least of its glass transition.
//
// Findings: it tips or is pushed over, post or core bends too far or is too weak,
// it stands off plumb, the post does not fit or needs rings, a piece sits on the
// base, the core droops, one person cannot lift it, it is too warm, a door or a
// lift is too small, the floor bears too little.
package structure
