// Package beam bends straight beams of one section under point loads: what a
// stock pipe does when it is carried by two hands or stands in its socket.
//
// Lengths in mm, forces in N, moduli in MPa (N/mm²), moments in N·mm. Deflection
// is small: the curvature is M/EI. Formulae are those of any handbook of
// strength of materials; the tests hold them against the handbook's closed cases
// and a published worked example.
package beam
