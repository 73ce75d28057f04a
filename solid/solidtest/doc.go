// Package solidtest makes the solids that tests and benches of the kernel are
// run on, out of +, −, ×, ÷ and √ alone: any language with IEEE 754 doubles that
// follows the same recipe gets the same bits, so that results of other kernels
// can be compared to the last digits.
//
// Lengths are millimetres. Products are written float64(a*b) so that no machine
// fuses them.
package solidtest
