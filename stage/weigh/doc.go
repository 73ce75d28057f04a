// Package weigh ranks ratios by what each would take.
//
// In: candidates with their hours, money and dates. Out: the same, what can be
// made first, by the safe date and then by ratio, each with what it is the best of:
// soonest, cheapest, fewest pieces, largest.
package weigh
