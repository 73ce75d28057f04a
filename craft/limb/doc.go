// Package limb says how a body of revolution lies before a camera: which pixel shows
// a station and radius at the body's edge, which station and radius a pixel of its
// edge means, and where on its surface the ray of a pixel arrives.
//
// In: a [Pose], as a photograph was solved for it, and places in mm of the body or in
// pixels of the upright photograph. Out: the other of the two. Angles are radians.
//
// The formulae follow from one definition: a ray touches a body of revolution where it
// is square to the surface's normal there. With u the axis, e the unit direction from
// it to the place, square to u, and ψ the angle of the normal from e towards u
// (tan ψ = -dr/ds), the normal is n = cos ψ·e + sin ψ·u, and a place X = P + s·u + r·e
// lies on the edge seen from C when n·(X - C) = 0. Seen through a pixel with the ray d
// the same is n·d = 0. Both are one equation in the turn of e about u, with one root on
// each side of the body.
//
// A [Pass] is the same seen from a ray: how far outside a line, an arc or a rim of the
// outline it passes, with a sign, so that an outline can be fitted to an edge whatever part
// of it the edge shows.
package limb
