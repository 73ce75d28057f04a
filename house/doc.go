// Package house holds what is true of the house as a whole and is tested here:
// which folder may import which, and that the documents point at what exists.
package house
