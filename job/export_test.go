package job

import (
	"maps"
	"slices"

	"scalewright/finding"
)

// CuredCodes are the findings that have a cure.
func CuredCodes() []finding.Code { return slices.Sorted(maps.Keys(cures)) }
