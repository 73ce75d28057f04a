// Package stock holds tables of what can be bought, pipes, filaments and glues,
// and of the tolerances of ISO 286, each row with its source and the basis of the
// figures (standard, data sheet, measured, common practice, memory; "standard and
// memory" where one of them is from memory, as the source says). Code holds no
// table; a new size is a new row in the CSV beside this file.
package stock
