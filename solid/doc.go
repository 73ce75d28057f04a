// Package solid is a kernel for closed triangle meshes.
//
// A [Mesh] is made by [Turn], [Prism], [Box], [Sphere], [Tube] or [Loft], or of
// what a file holds by [Kernel.Repair]; moved by a [Transform]; divided by [Cut];
// put together by [Kernel.Union], [Kernel.Subtract] and [Kernel.Intersect]; looked
// at by [Section] and asked through a [Tree]; drawn by [Kernel.Project] and
// [Kernel.Shade]; judged by [Mesh.Check]. It stands alone and knows nothing of any trade. Long operations
// are methods of a [Kernel], which says how many processors they use and who hears
// how far they are.
//
// One file has one step. alg_boolean.go lists those of a boolean, the first file
// to read; type_*.go hold what is worked on, alg_*.go what is done to it.
//
// Coordinates are plain float64; every operation is free of scale, but the
// documentation speaks of millimetres. Angles are radians. Triangles run
// anticlockwise seen from outside. Nothing here writes to a slice it was given,
// and what it returns belongs to the caller.
//
// The rules every operation keeps:
//
//  1. Topology is decided by signs, never by comparing computed points: one
//     sign a vertex for a cut, one comparison along an axis for two parts of a
//     boolean (J. Smith and N. Dodgson, 2007), an exact sign for the turn of
//     three points (J. R. Shewchuk, 1997). So two neighbours always see the same
//     answer and a result is closed even where rounding picks the "wrong" one.
//  2. A point on an edge is a function of that edge alone, taken from its lower
//     to its higher vertex; the two triangles of the edge get the same bits.
//  3. A cut of a closed solid is two closed solids, coplanar faces and vertices
//     on the plane included. Tempting and false: that the halves are manifold
//     after their vertices are merged by coordinates. Two wedges that meet in
//     a line lying in the plane leave a half that touches itself along it; the
//     half has two vertices at each such place.
//  4. The same input gives the same bytes, whatever the number of workers.
//
// Mistakes of the caller are typed: [*NotSolidError] holds the [Fault] list of
// a mesh, [*LoopError] the place where an outline is wrong, [*ValueError] a
// number that can't be.
package solid
