// Package inspect looks at the carved pieces together, as a foreman who lays them
// out before anything is printed.
//
// In: the design's parts and mounts, the pieces with their solids in their places,
// mm at full size, and their seams. Out: findings only. Walls: the thinnest of each
// part, measured by carve square to the surface and without rims and lead-ins,
// against what is declared; what is too thin to print is printing's to say. Solids: no
// two pieces of different parts may share volume; shells of the body among each
// other, and guests in their own hosts, are cut to each other by carve and are not
// looked at again.
package inspect
