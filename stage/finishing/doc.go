// Package finishing plans the way from the print to the finished surface.
//
// In: the carved pieces as they lie in print, the printers' layers, the grade
// asked for, coats, seams and groups. Out: the area that is seen, mm², and how
// rough it comes off the printer; the route of each group; the tasks with their
// hours and drying times; cans, tubes and paper with a guess of their price; the
// film that all coats add; what to mask.
//
// A triangle is seen if the ray along its normal leaves the assembled build; a long
// one is halved first. Its depth is √(cusp² + floor²) by craft/surface. Priming and
// sanding go round until the depth of all but a twentieth of the area is at the
// grade's limit, never less than once: a vertical wall has no stair and is still
// not smooth. Rates of sanding are common practice, a guess until logged: raw print
// 0.06 m² an hour, primer 0.22, the last scuff 0.75; minutes logged for sanding
// scale them.
package finishing
