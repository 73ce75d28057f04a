// Package solid is a small kernel for closed triangle meshes.
//
// A [Mesh] is made by [Turn], [TurnLoops], [Prism] or [Box], moved by a
// [Transform], divided by [Cut], looked at by [Section] and [Sections], and
// judged by [Mesh.Check]. It stands alone and knows nothing of any trade.
//
// Coordinates are plain float64; every operation is free of scale, but the
// documentation speaks of millimetres. Angles are radians. Triangles run
// anticlockwise seen from outside. Nothing here writes to a slice it was given,
// and what it returns belongs to the caller.
//
// The rules every operation keeps:
//
//  1. Topology is decided by signs, never by comparing computed points: one
//     sign a vertex for a cut, an exact sign for the turn of three points. So
//     two neighbours always see the same answer and a result is closed even
//     where rounding picks the "wrong" one.
//  2. A point on an edge is a function of that edge alone, taken from its lower
//     to its higher vertex; the two triangles of the edge get the same bits.
//  3. A cut of a closed solid is two closed solids, coplanar faces and vertices
//     on the plane included. Tempting and false: that the halves are manifold
//     after their vertices are merged by coordinates. Two wedges that meet in
//     a line lying in the plane leave a half that touches itself along it; the
//     half has two vertices at each such place.
//  4. The same input gives the same bytes.
//
// Mistakes of the caller are typed: [*NotSolidError] holds the [Fault] list of
// a mesh, [*LoopError] the place where an outline is wrong, [*ValueError] a
// number that can't be.
package solid
