// Package stock holds tables of what can be bought: pipes and filaments, each
// row with its source and the basis of the figures (standard, data sheet,
// measured, common practice, memory). Code holds no table; a new size is a new
// row in the CSV beside this file.
package stock
