// Package structure weighs the build, finds how it is carried and whether it
// stands.
//
// In: the pieces as carved and printed, the core, components, the stand and the
// site. Out: masses in g with their doubt, the centre of mass in mm, the core's
// droop and stress when it is carried by two hands and when it is raised, and on
// its stand the angle at which it tips, the push that tips it, the post's stress
// and the top's sway.
//
// The core alone bears: a stack of rings with glued seams does not carry its
// shell's stiffness (common practice). Beams by craft/beam. Tipping: the angle is
// atan(b/h), b the way from the centre of mass to the tipping edge, h its height;
// 10° in every direction and a push of 13 % of the weight up to 250 N at no more
// than 1.5 m, IEC 62368-1 ed. 3 as quoted in a standards mailing list; 15° and a
// leaning hand where the public touches it (common practice). Lifting by
// craft/handling. A filament is safe to ten kelvin below the least of its glass
// transition.
//
// Findings: it tips or is pushed over, the post bends too far or is too weak, the
// core droops, one person cannot lift it, it is too warm, a door or a lift is too
// small, the floor bears too little, the post does not fit.
package structure
