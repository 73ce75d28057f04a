// Package foresee ranks what may go wrong although nothing is wrong yet, so that
// the verdict can name it with its cure.
//
// In: pieces with their printing hours, joints with their clearances and steps,
// the largest doubt of the reference, and what the log says of failed prints.
// Out: risks, each with its chance and the hours it costs, the largest product
// first. One of each kind, the worst: a list of everything that might happen
// helps nobody.
//
// A print of h hours fails with the chance 1 - exp(-λh), a Poisson process; λ is
// 5 to 10 of 100 plates of some five hours (common practice; a guess until you
// log), held as 3 failures in 200 hours and weighed with the log's, which is the
// mean of a gamma distribution updated with a Poisson count (Gelman et al.,
// Bayesian Data Analysis, section 2.6; from memory). Clearances, steps and radii
// are taken as normal. Hours are of the maker's and the printer's time alike.
package foresee
