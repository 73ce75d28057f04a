// Package tolerance is the ISO code system for tolerances on sizes: limits of a
// hole or shaft from its nominal diameter and class (50 H7, 50 g6).
//
// A class is a letter, the fundamental deviation, and a number, the grade. The
// figures stand in stock/iso286.csv: 3 to 250 mm, holes H, shafts c to h, k and
// p, grades 6 to 13. A range is "over a, up to and including b". Source: ISO
// 286-1 and 286-2 by the transcriptions that the table names.
package tolerance
