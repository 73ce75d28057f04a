// Package seen finds what of each piece is seen of the assembled build, and how rough
// it comes off the printer.
//
// In: the carved pieces where they lie in the build, how each lies in print, the
// printers' layers, which parts are finished. Out: of each finished piece that shows
// the area that is seen, mm², its mean depth, the depth that all but a twentieth of
// it has at most, and the area by class of depth.
//
// A triangle is seen if the ray along its normal leaves the assembled build; a long
// one is halved first. Its depth is √(cusp² + floor²) by craft/surface.
package seen
