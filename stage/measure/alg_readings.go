package measure

import (
	"math"

	"scalewright/finding"
	"scalewright/unit"
)

// lengthValue is the length with its doubt, joined with the length that the maker
// measured, where it is known and the two agree.
func lengthValue(sol solution, all []shared, in Input, list *finding.List) (v unit.Value, stretch float64) {
	seen := unit.Estimate(sol.hi.s-sol.lo.s, math.Hypot(sol.lo.u, sol.hi.u), lengthSources(all)...)
	told := in.Length
	if told.X <= 0 || told.U <= 0 {
		return seen, 1
	}
	if math.Abs(seen.X-told.X) > 3*math.Hypot(seen.U, told.U) {
		list.Add(finding.New("length-disagrees", in.PhotoAt, finding.Args{
			"seen": finding.Size(seen.X), "told": finding.Size(told.X), "u": finding.Fine(2 * math.Hypot(seen.U, told.U)),
		}))
		return seen, 1
	}
	joint := (seen.X/(seen.U*seen.U) + told.X/(told.U*told.U)) / (1/(seen.U*seen.U) + 1/(told.U*told.U))
	learn(all, seen.U*seen.U+told.U*told.U)
	known := seen.Independent() * told.U / math.Hypot(seen.U, told.U)
	v = unit.Estimate(joint, known, lengthSources(all)...)
	v.U = seen.U * told.U / math.Hypot(seen.U, told.U)
	return v, joint / seen.X
}

// learn takes in what a measured length says of the shared causes: with a the
// causes' effects on the length and S the variance of the difference of the two
// lengths, their covariance shrinks from I to I - a·aᵀ/S (least squares with one
// more observation). Its symmetric root I - γ·a·aᵀ, γ = (1 - √(1 - |a|²/S))/|a|²,
// applied to every station's contributions keeps each under its own name.
func learn(all []shared, s float64) {
	aa := 0.0
	for _, c := range all {
		aa += c.length * c.length
	}
	if aa == 0 {
		return
	}
	gamma := (1 - math.Sqrt(max(0, 1-aa/s))) / aa
	for k := range all[0].radius {
		ab := 0.0
		for _, c := range all {
			ab += c.length * c.radius[k]
		}
		for i := range all {
			all[i].radius[k] -= gamma * ab * all[i].length
		}
	}
	for f := range all[0].marked {
		for k := range all[0].marked[f] {
			ab := 0.0
			for _, c := range all {
				ab += c.length * c.marked[f][k]
			}
			for i := range all {
				all[i].marked[f][k] -= gamma * ab * all[i].length
			}
		}
	}
	for i := range all {
		all[i].length *= 1 - gamma*aa
	}
}
