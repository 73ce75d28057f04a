// Package finishing plans the way from the print to the finished surface.
//
// In: what is seen of each piece and how rough it comes off the printer (package
// seen), the grade asked for, coats, seams and groups. Out: the route of each group; the tasks with their
// hours and drying times; cans, tubes and paper with a guess of their price; the
// film that all coats add; what to mask.
//
// Priming and sanding go round until the depth of all but a twentieth of the area is at the
// grade's limit, never less than once: a vertical wall has no stair and is still
// not smooth. Rates of sanding are common practice, a guess until logged: raw print
// 0.06 m² an hour, primer 0.22, the last scuff 0.75; minutes logged for sanding
// scale them.
package finishing
