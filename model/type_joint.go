package model

import "scalewright/unit"

// What a joint takes along the axis besides its engagement: common practice.
const (
	// EndGap is kept between a spigot's end and what stands on it.
	EndGap = 0.5 * unit.Millimetre
	// RootDeep is how far a spigot is rooted in its own piece.
	RootDeep = 6 * unit.Millimetre
)
