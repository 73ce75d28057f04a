// Package formats reads and writes solids as files: STL, OBJ and 3MF.
//
// [ReadSTL] takes binary and ASCII, [WriteSTL] writes binary; [ReadOBJ] and
// [WriteOBJ] handle the polygons of a Wavefront OBJ file; [Read3MF] and
// [Write3MF] handle the core of the 3D Manufacturing Format (3MF Core
// Specification 1.3, a package by ECMA-376 part 2). Lengths are millimetres;
// a 3MF in another unit is converted. Files are untrusted: every reader has
// [Limits], asks for memory only as data arrives, and answers what is wrong with
// a [*SyntaxError] or a [*LimitError].
//
// All writers give the same bytes for the same solid: no clock, no map order.
//
// STL holds single precision. [Round32] is what makes that safe: it rounds the
// vertices, then takes away what collapsed and moves apart what would touch, so
// that a reader that merges vertices by exact coordinates gets a closed solid;
// [Rounding] says what it did.
//
// Vertices of an STL are welded by exact coordinates, those of the others are as
// the file numbers them. Readers judge nothing: ask [solid.Mesh.Check].
package formats
